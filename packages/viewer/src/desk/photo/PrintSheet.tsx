import { SHEET_PAPERS, SHEET_SIZES_MM, type SheetPaper, sheetsWidthMm, tracingSheet } from '@barwright/geometry';
import { useEffect, useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { PHOTO_READING_TEXTS } from '../../look/texts/photo-reading.ts';
import { saveText } from './save-text.ts';

const T = PHOTO_TEXTS.print;

/** The sheet to trace on: chosen, seen, printed in true size or saved page by page. */
export function PrintSheet({ onClose }: { onClose: () => void }) {
  const [paper, setPaper] = useState<SheetPaper>('a4');
  const [tiles, setTiles] = useState(3);
  const pages = tracingSheet({ paper, tiles });
  const nameOf = (i: number): string => `tracing-sheet-${paper}-${i + 1}-of-${tiles}.svg`;
  return (
    <section className="photo-print-part" aria-label={T.label}>
      <div className="photo-row">
        <h3>{T.title}</h3>
        <button type="button" onClick={onClose}>
          {T.close}
        </button>
      </div>
      <p className="small">{T.says(tiles, (sheetsWidthMm(paper, tiles) / 10).toFixed(1))}</p>
      <div className="photo-row">
        <fieldset className="switch">
          <legend className="visually-hidden">{T.paper}</legend>
          {SHEET_PAPERS.map((one) => (
            <button key={one} type="button" aria-pressed={one === paper} onClick={() => setPaper(one)}>
              {PHOTO_READING_TEXTS.papers[one]}
            </button>
          ))}
        </fieldset>
        <fieldset className="switch">
          <legend className="visually-hidden">{T.tiles}</legend>
          {[1, 2, 3, 4].map((count) => (
            <button key={count} type="button" aria-pressed={count === tiles} onClick={() => setTiles(count)}>
              {count === 1 ? T.oneTile : count}
            </button>
          ))}
        </fieldset>
        <button type="button" className="photo-main" onClick={() => window.print()}>
          {T.print(tiles)}
        </button>
      </div>
      <ul className="photo-sheets">
        {pages.map((svg, i) => (
          <li key={nameOf(i)}>
            <SvgPage svg={svg} label={T.page(i + 1, tiles)} />
            <button type="button" onClick={() => saveText(svg, nameOf(i), 'image/svg+xml')}>
              {T.save(i + 1)}
            </button>
          </li>
        ))}
      </ul>
      <OnPaper pages={pages} paper={paper} />
    </section>
  );
}

/** What the printer gets: the pages alone, in true size. */
function OnPaper({ pages, paper }: { pages: readonly string[]; paper: SheetPaper }) {
  const { widthMm, heightMm } = SHEET_SIZES_MM[paper];
  useEffect(() => {
    document.documentElement.classList.add('prints-sheets');
    return () => document.documentElement.classList.remove('prints-sheets');
  }, []);
  return createPortal(
    <div className="photo-paper" aria-hidden="true">
      <style>{`@page { size: ${widthMm}mm ${heightMm}mm; margin: 0 }`}</style>
      {pages.map((svg) => (
        <SvgPage key={svg} svg={svg} label="" />
      ))}
    </div>,
    document.body,
  );
}

/** A page of our own drawing, put in as nodes so that it has the page's type. */
function SvgPage({ svg, label }: { svg: string; label: string }) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const drawing = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    // The page's own rule would set the paper of whatever else is printed.
    for (const style of drawing.querySelectorAll('style')) style.remove();
    place.current?.replaceChildren(drawing);
  }, [svg]);
  return label === '' ? (
    <div className="photo-page" ref={place} />
  ) : (
    <div className="photo-page" ref={place} role="img" aria-label={label} />
  );
}
