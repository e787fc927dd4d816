import type { Reach } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { lengthFigure, type Units } from '../../look/format.ts';
import { showsWords } from './node-words.ts';

/** The strip of set positions, in words: on the back as measured. */
export function SetPositions({ reach, units }: { reach: Reach; units: Units }) {
  const { positionsMm, atPositions, setPositionBandMm } = reach;
  return (
    <details className="reach-positions">
      <summary>Set positions, further forward or back, on the back as measured</summary>
      <p className="small soft">
        The rules leave <Figure of={lengthFigure(setPositionBandMm, units, { decimals: 0 })} /> either way.
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
