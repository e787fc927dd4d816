import { useEffect, useRef, useState } from 'react';
import { Figure } from '../../look/Figure.tsx';
import { gapFigure, shareFigure, type Units } from '../../look/format.ts';
import { TWO_BACKS_TEXTS } from '../../look/texts/two-backs.ts';
import type { TwoBacksView } from './two-backs-service.ts';

const T = TWO_BACKS_TEXTS.change;

/** The sheet as it is printed, and a way to keep it. Drawn by the same hand as on paper, in the page's own letters. */
export function ChangeMap({ svg, name }: { svg: string; name: string }) {
  const holder = useRef<HTMLElement>(null);
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    const sheet = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    sheet.removeAttribute('width');
    sheet.removeAttribute('height');
    sheet.setAttribute('role', 'img');
    sheet.setAttribute('aria-label', T.mapLabel);
    holder.current?.replaceChildren(document.importNode(sheet, true));
    const made = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [svg]);
  return (
    <figure className="change-map">
      <section
        ref={holder}
        className="change-sheet"
        aria-label={T.map}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow page it scrolls, and has to by keys too
        tabIndex={0}
      />
      <figcaption>
        {address !== null && (
          <a href={address} download={`${name}.svg`}>
            {T.saveMap}
          </a>
        )}
      </figcaption>
    </figure>
  );
}

export interface ChangeTableProps {
  readonly view: TwoBacksView;
  readonly align: 'landmarks' | 'best fit';
  readonly units: Units;
}

/** What changed, by sixths: the change, what measuring twice can show, and a reading of it. */
export function ChangeTable({ view, align, units }: ChangeTableProps) {
  return (
    <div className="tracing-scroll">
      <table className="change-table">
        <caption>{T.table}</caption>
        <thead>
          <tr>
            {Object.entries(T.columns).map(([key, name]) => (
              <th key={key} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {view.regions.map((region) => (
            <tr key={`${region.side} ${region.third}`}>
              <th scope="row">{T.where(region.side, region.third)}</th>
              <td>
                <Figure
                  of={gapFigure(align === 'landmarks' ? region.landmarksMm : region.bestFitMm, units, { signed: true })}
                />
              </td>
              <td>
                <Figure of={gapFigure(region.limitMm, units)} />
              </td>
              <td>
                <Figure of={shareFigure(region.coverage)} />
              </td>
              <td>{region.reading}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
