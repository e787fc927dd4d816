import { Figure } from '../look/Figure.tsx';
import { lengthFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { useView } from '../state/hooks.ts';
import { partsOf, removeDistance, useMeasuring } from './measure-store.ts';

const T = TEXTS.looking;

/** The list of measured distances, over the picture and beside it where there is none. */
export function Distances() {
  const { isOn, from, distances } = useMeasuring();
  const units = useView((view) => view.units);
  if (!isOn && distances.length === 0) return null;
  return (
    <section className="distances" aria-label={T.distances}>
      {isOn && <p role="status">{from === null ? T.takeFirst : T.takeSecond}</p>}
      <ol>
        {distances.map((distance) => {
          const { straightMm, alongMm, acrossMm, upMm } = partsOf(distance);
          return (
            <li key={distance.id} value={distance.id}>
              <strong>
                <Figure of={lengthFigure(straightMm, units)} />
              </strong>{' '}
              <span className="soft">
                {T.along} <Figure of={lengthFigure(alongMm, units, { signed: true })} />, {T.sideways}{' '}
                <Figure of={lengthFigure(acrossMm, units, { signed: true })} />, {T.up}{' '}
                <Figure of={lengthFigure(upMm, units, { signed: true })} />
              </span>{' '}
              <button
                type="button"
                aria-label={T.removeDistance(distance.id)}
                onClick={() => removeDistance(distance.id)}
              >
                {T.remove}
              </button>
            </li>
          );
        })}
      </ol>
    </section>
  );
}
