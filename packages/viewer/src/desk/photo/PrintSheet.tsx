import { SHEET_SIZES_MM, type SheetPaper, sheetsWidthMm, tracingSheet } from '@barwright/geometry';
import { useEffect, useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import { saveText } from './save-text.ts';

const PAPERS: Readonly<Record<SheetPaper, string>> = { a4: 'A4', letter: 'Letter' };

/** The sheet to trace on: chosen, seen, printed in true size or saved page by page. */
export function PrintSheet({ onClose }: { onClose: () => void }) {
  const [paper, setPaper] = useState<SheetPaper>('a4');
  const [tiles, setTiles] = useState(3);
  const pages = tracingSheet({ paper, tiles });
  const nameOf = (i: number): string => `tracing-sheet-${paper}-${i + 1}-of-${tiles}.svg`;
  return (
    <section className="photo-print-part" aria-label="Tracing sheet">
      <div className="photo-row">
        <h3>The tracing sheet</h3>
        <button type="button" onClick={onClose}>
          Close the sheet
        </button>
      </div>
      <p className="small">
        {`${tiles === 1 ? 'One sheet' : `${tiles} sheets, taped side by side,`} ${(sheetsWidthMm(paper, tiles) / 10).toFixed(1)} cm wide. Print at 100 %, without “fit to page”, and measure the 100 mm bar at the foot of each sheet before you trace. Lay the level line where the spirit level lay and the midline on the spine.`}
      </p>
      <div className="photo-row">
        <fieldset className="switch">
          <legend className="visually-hidden">Paper</legend>
          {(Object.keys(PAPERS) as SheetPaper[]).map((one) => (
            <button key={one} type="button" aria-pressed={one === paper} onClick={() => setPaper(one)}>
              {PAPERS[one]}
            </button>
          ))}
        </fieldset>
        <fieldset className="switch">
          <legend className="visually-hidden">Sheets side by side</legend>
          {[1, 2, 3, 4].map((count) => (
            <button key={count} type="button" aria-pressed={count === tiles} onClick={() => setTiles(count)}>
              {count === 1 ? '1 sheet' : count}
            </button>
          ))}
        </fieldset>
        <button type="button" className="photo-main" onClick={() => window.print()}>
          {tiles === 1 ? 'Print it' : `Print all ${tiles}`}
        </button>
      </div>
      <ul className="photo-sheets">
        {pages.map((svg, i) => (
          <li key={nameOf(i)}>
            <SvgPage svg={svg} label={`Sheet ${i + 1} of ${tiles}`} />
            <button type="button" onClick={() => saveText(svg, nameOf(i), 'image/svg+xml')}>
              {`Save sheet ${i + 1}`}
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
