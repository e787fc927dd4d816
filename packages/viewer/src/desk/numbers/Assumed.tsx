import type { AssumedValue } from '@barwright/geometry';
import { FEW_NUMBERS_REASON, type SectionsBackDocument } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { angleFigure, decimalFigure, figureText, gapFigure, lengthFigure, type Units } from '../../look/format.ts';
import { NUMBERS_TEXTS } from '../../look/texts/numbers.ts';

const T = NUMBERS_TEXTS.assumed;

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
    <section className="numbers-assumed" aria-label={T.title}>
      <h3>{T.title}</h3>
      <p>
        {T.uncertain}
        <Figure of={gapFigure(uncertaintyMm, units)} />
        {T.degrees}
        <Figure of={angleFigure(uncertaintyDeg)} />
        {T.band}
        <span className="small">{FEW_NUMBERS_REASON}</span>
      </p>
      <details>
        <summary>{T.what(assumed.length)}</summary>
        <ul className="small">
          {reasons.map((why) => (
            <li key={why}>
              {T.values(
                why.charAt(0).toUpperCase() + why.slice(1),
                assumed.filter((value) => value.why === why).map((value) => sayValue(value, document, units)),
              )}
            </li>
          ))}
        </ul>
      </details>
    </section>
  );
}

function sayValue({ field, value, unit }: AssumedValue, document: SectionsBackDocument, units: Units): string {
  const figure = value === null ? T.none : figureText(unit === 'deg' ? angleFigure(value) : lengthFigure(value, units));
  return `${placeOf(field, document, units)} ${figure}`;
}

/** A path of the document in words. */
function placeOf(field: string, document: SectionsBackDocument, units: Units): string {
  const length = (mm: number | undefined): string =>
    mm === undefined ? figureText(decimalFigure(null, '', 0)) : figureText(lengthFigure(mm, units, { decimals: 0 }));
  const [name, k, j] = field.split('.');
  if (name === 'slopeDeg') return T.slope(length(document.stationsMm[Number(k)]), length(document.slopeYMm[Number(j)]));
  if (name === 'bearingHeightMm') return T.bearing(length(document.stationsMm[Number(k)]));
  if (name === 'asymmetry') return T.asymmetry;
  if (name === 'bladeBulge') return T.bladePatch(k);
  if (name === 'hollow') return T.hollow(k);
  if (name === 'bladeSwingMm') return T.bladeSwing;
  if (name === 'edgeSlopeAddDeg') return T.edgeSlope;
  return field;
}
