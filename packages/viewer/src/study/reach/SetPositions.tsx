import type { Reach } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { lengthFigure, type Units } from '../../look/format.ts';
import { REACH_TEXTS } from '../../look/texts/reach.ts';
import { showsWords } from './node-words.ts';

const T = REACH_TEXTS.positions;

/** The strip of set positions, in words: on the back as measured. */
export function SetPositions({ reach, units }: { reach: Reach; units: Units }) {
  const { positionsMm, atPositions, setPositionBandMm } = reach;
  return (
    <details className="reach-positions">
      <summary>{T.title}</summary>
      <p className="small soft">
        {T.leave} <Figure of={lengthFigure(setPositionBandMm, units, { decimals: 0 })} /> {T.eitherWay}
      </p>
      <ul>
        {positionsMm.map((mm, i) => (
          <li key={mm}>
            <Figure of={lengthFigure(mm, units, { decimals: 0, signed: true })} />: {showsWords(atPositions[i]!)}
          </li>
        ))}
      </ul>
    </details>
  );
}
