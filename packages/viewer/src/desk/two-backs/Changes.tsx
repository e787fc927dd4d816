import { useEffect, useRef, useState } from 'react';
import { Figure } from '../../look/Figure.tsx';
import { gapFigure, shareFigure, type Units } from '../../look/format.ts';
import type { ComparedSide, TwoBacksView } from './two-backs-service.ts';

/** The sheet as it is printed, and a way to keep it. Drawn by the same hand as on paper, in the page's own letters. */
export function ChangeMap({ svg, name }: { svg: string; name: string }) {
  const holder = useRef<HTMLElement>(null);
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    const sheet = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    sheet.removeAttribute('width');
    sheet.removeAttribute('height');
    sheet.setAttribute('role', 'img');
    sheet.setAttribute('aria-label', 'Map of the change from above, front up; its figures are in the table');
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
        aria-label="Change map"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow page it scrolls, and has to by keys too
        tabIndex={0}
      />
      <figcaption>
        {address !== null && (
          <a href={address} download={`${name}.svg`}>
            Save the map as it is printed
          </a>
        )}
      </figcaption>
    </figure>
  );
}

/** What changed, by sixths: the change, what measuring twice can show, and a reading of it. */
export function ChangeTable({
  view,
  align,
  units,
}: {
  view: TwoBacksView;
  align: 'landmarks' | 'best fit';
  units: Units;
}) {
  return (
    <div className="tracing-scroll">
      <table className="change-table">
        <caption>Mean change, + fuller; less than the limit can’t be told from measuring twice.</caption>
        <thead>
          <tr>
            <th scope="col">Where</th>
            <th scope="col">Change</th>
            <th scope="col">Limit</th>
            <th scope="col">Data</th>
            <th scope="col">Reading</th>
          </tr>
        </thead>
        <tbody>
          {view.regions.map((region) => (
            <tr key={`${region.side} ${region.third}`}>
              <th scope="row">
                {region.side}, {region.third} third
              </th>
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

export function MeasuredWords({ title, side, units }: { title: string; side: ComparedSide; units: Units }) {
  return (
    <p className="small">
      <strong>{title}:</strong> {side.name}, {side.on}, by {side.by}, ±
      <Figure of={gapFigure(side.uncertaintyMm, units)} />, ±{side.uncertaintyDeg}°.
    </p>
  );
}
