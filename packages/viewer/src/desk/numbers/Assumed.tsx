import type { AssumedValue } from '@barwright/geometry';
import { FEW_NUMBERS_REASON, type SectionsBackDocument } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { angleFigure, decimalFigure, figureText, gapFigure, lengthFigure, type Units } from '../../look/format.ts';

interface AssumedProps {
  readonly document: SectionsBackDocument;
  readonly assumed: readonly AssumedValue[];
  readonly units: Units;
}

/** How wide the doubt is, why, and everything in the back that nobody measured. */
export function Assumed({ document, assumed, units }: AssumedProps) {
  const { uncertaintyMm, uncertaintyDeg } = document.measured;
  const reasons = [...new Set(assumed.map(({ why }) => why))];
  return (
    <section className="numbers-assumed" aria-label="How far to trust it">
      <h3>How far to trust it</h3>
      <p>
        Uncertain by ±
        <Figure of={gapFigure(uncertaintyMm, units)} /> and ±<Figure of={angleFigure(uncertaintyDeg)} /> or more: the
        band in the drawing. <span className="small">{FEW_NUMBERS_REASON}</span>
      </p>
      <details>
        <summary>What is assumed: {assumed.length} values</summary>
        <ul className="small">
          {reasons.map((why) => (
            <li key={why}>
              {why.charAt(0).toUpperCase() + why.slice(1)}:{' '}
              {assumed
                .filter((value) => value.why === why)
                .map((value) => sayValue(value, document, units))
                .join('; ')}
              .
            </li>
          ))}
        </ul>
      </details>
    </section>
  );
}

function sayValue({ field, value, unit }: AssumedValue, document: SectionsBackDocument, units: Units): string {
  const figure = value === null ? 'none' : figureText(unit === 'deg' ? angleFigure(value) : lengthFigure(value, units));
  return `${placeOf(field, document, units)} ${figure}`;
}

/** A path of the document in words. */
function placeOf(field: string, document: SectionsBackDocument, units: Units): string {
  const length = (mm: number | undefined): string =>
    mm === undefined ? figureText(decimalFigure(null, '', 0)) : figureText(lengthFigure(mm, units, { decimals: 0 }));
  const [name, k, j] = field.split('.');
  if (name === 'slopeDeg')
    return `slope at ${length(document.stationsMm[Number(k)])}, ${length(document.slopeYMm[Number(j)])} out,`;
  if (name === 'bearingHeightMm') return `bearing line at ${length(document.stationsMm[Number(k)])}`;
  if (name === 'asymmetry') return 'left steeper than right by';
  if (name === 'bladeBulge') return `blade patch ${k}`;
  if (name === 'hollow') return `hollow ${k}`;
  if (name === 'bladeSwingMm') return 'swing of the blade';
  if (name === 'edgeSlopeAddDeg') return 'steeper at the edge by';
  return field;
}
