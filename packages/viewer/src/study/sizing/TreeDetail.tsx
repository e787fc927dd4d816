import { FINDING_WORDS, type SizeCase, type SolvedCapacity } from '@barwright/geometry';
import { useState } from 'react';
import { Figure } from '../../look/Figure.tsx';
import { forceFigure, lengthFigure, pressureFigure, type Units } from '../../look/format.ts';
import { CautionFor } from '../../reading/Cautions.tsx';
import { limitWords, massOfLoad } from './capacity-mass.ts';
import { putOnBench } from './put-on-bench.ts';
import { type ShownTree, worstOf } from './table-of.ts';

/** One tree of the shelf: its one reason, every case of the riding, what it bears, and the way onto the bench. */
export function TreeDetail({ tree, units }: { tree: ShownTree; units: Units }) {
  const { choice, cell, id } = tree;
  const [put, setPut] = useState<string | null>(null);
  if (cell === null) return <p className="soft">{id}: not worked out yet.</p>;
  return (
    <section className="tree-detail" aria-label="Tree shown">
      <h3>{id}</h3>
      <p className="reason">{reasonWords(tree)}</p>
      <p>
        <button
          type="button"
          onClick={() => {
            putOnBench(choice);
            setPut(id);
          }}
        >
          Put it on the bench
        </button>
      </p>
      <p className="small soft" role="status">
        {put === id
          ? 'It lies on the bench; one undo takes it off again.'
          : 'Also sets the rider’s weight with gear, the load in the seat and the shelf’s layers. Set position, legs, load factor and limits stay.'}
      </p>
      <p className="small">
        Bar <Figure of={lengthFigure(cell.barLengthMm, units, { decimals: 0 })} />; this back has room for{' '}
        <Figure of={lengthFigure(cell.roomMm, units, { decimals: 0 })} />.
      </p>
      <h4>Every case</h4>
      <ul className="cases">
        {cell.cases.map((one) => (
          <CaseLine key={one.name} one={one} units={units} />
        ))}
      </ul>
      <h4>Tree bearing</h4>
      <CautionFor id="capacity" />
      <dl className="bearing">
        <BearingLine name={`with ${cell.capacity.padLabel}`} solved={cell.capacity.withPad} units={units} />
        {cell.capacity.withoutPad !== null && (
          <BearingLine name="without a pad" solved={cell.capacity.withoutPad} units={units} />
        )}
        <div>
          <dt>rule of thumb</dt>
          <dd>
            <Masses newtons={cell.capacity.ruleOfThumbN} units={units} />
          </dd>
        </div>
        <div>
          <dt>this rider, gear and saddle, times the setup’s load factor</dt>
          <dd>
            <Masses newtons={cell.loadN} units={units} />
          </dd>
        </div>
      </dl>
    </section>
  );
}

function reasonWords({ reason, isClosest, cell, choice }: ShownTree): string {
  if (isClosest) {
    const { words, ratio, inCase } = worstOf(cell!);
    if (ratio === null) return 'Closest of this shelf: no finding in any case. That is not a verdict.';
    return `Closest of this shelf: least over its rules of this rider's seats. Furthest over: ${words}, ${ratio.toFixed(1)} times, at ${inCase}.`;
  }
  if (reason !== null) return reason;
  return choice.isInSeatRange ? 'Compared when all of the rider’s seats are done.' : 'Not one of this rider’s seats.';
}

function CaseLine({ one, units }: { one: SizeCase; units: Units }) {
  const { name, status, p95PressureKPa, meanPressureKPa, peakPressureKPa, findings } = one;
  return (
    <li>
      <strong>{name}</strong>
      {status !== 'settled' && `: ${status}`}
      <span className="small soft case-figures">
        mean <Figure of={pressureFigure(meanPressureKPa, units)} />, p95{' '}
        <Figure of={pressureFigure(p95PressureKPa, units)} />, peak{' '}
        <Figure of={pressureFigure(peakPressureKPa, units)} />
      </span>
      <span className="small case-findings">{findingWords(findings)}</span>
    </li>
  );
}

/** Each finding once, by the side where it is furthest over its rule. */
function findingWords(findings: SizeCase['findings']): string {
  const most = new Map<string, number>();
  for (const { code, ratio } of findings) {
    const words = FINDING_WORDS[code];
    most.set(words, Math.max(most.get(words) ?? 0, ratio));
  }
  const sorted = [...most].sort((a, b) => b[1] - a[1]);
  if (sorted.length === 0) return 'no finding';
  return sorted.map(([words, ratio]) => (ratio > 0 ? `${words} ${ratio.toFixed(1)}×` : words)).join(', ');
}

function BearingLine({ name, solved, units }: { name: string; solved: SolvedCapacity; units: Units }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        {solved.firstN === null ? (
          limitWords(solved)
        ) : (
          <>
            <Masses newtons={solved.firstN} units={units} />
            <span className="soft">, {limitWords(solved)}</span>
          </>
        )}
      </dd>
    </div>
  );
}

/** In both units, the page's first: shops talk in pounds and kilograms over the same counter. */
function Masses({ newtons, units }: { newtons: number; units: Units }) {
  const other = units.mass === 'kg' ? 'lb' : 'kg';
  return (
    <>
      <Figure of={massOfLoad(newtons, units)} /> (<Figure of={massOfLoad(newtons, { mass: other })} />,{' '}
      <Figure of={forceFigure(newtons, units)} />)
    </>
  );
}
