import { FINDING_WORDS, type SizeCase, type SolvedCapacity } from '@barwright/geometry';
import { useState } from 'react';
import { Figure } from '../../look/Figure.tsx';
import { forceFigure, lengthFigure, pressureFigure, type Units } from '../../look/format.ts';
import { sentenceIn } from '../../look/sentence.ts';
import { SIZING_TEXTS } from '../../look/texts/sizing.ts';
import { CautionFor } from '../../reading/Cautions.tsx';
import { limitWords, massOfLoad } from './capacity-mass.ts';
import { putOnBench } from './put-on-bench.ts';
import { type ShownTree, worstOf } from './table-of.ts';

const T = SIZING_TEXTS.tree;
const B = SIZING_TEXTS.bearing;

/** One tree of the shelf: its one reason, every case of the riding, what it bears, and the way onto the bench. */
export function TreeDetail({ tree, units }: { tree: ShownTree; units: Units }) {
  const { choice, cell, id } = tree;
  const [put, setPut] = useState<string | null>(null);
  if (cell === null) return <p className="soft">{T.waiting(id)}</p>;
  return (
    <section className="tree-detail" aria-label={T.label}>
      <h3>{id}</h3>
      <p className="reason">{sentenceIn(reasonWords(tree), units)}</p>
      <p>
        <button
          type="button"
          onClick={() => {
            putOnBench(choice);
            setPut(id);
          }}
        >
          {T.put}
        </button>
      </p>
      <p className="small soft" role="status">
        {put === id ? T.lies : T.brings}
      </p>
      <p className="small">
        {T.bar} <Figure of={lengthFigure(cell.barLengthMm, units, { decimals: 0 })} />
        {T.room} <Figure of={lengthFigure(cell.roomMm, units, { decimals: 0 })} />.
      </p>
      <h4>{T.cases}</h4>
      <ul className="cases">
        {cell.cases.map((one) => (
          <CaseLine key={one.name} one={one} units={units} />
        ))}
      </ul>
      <h4>{B.title}</h4>
      <CautionFor id="capacity" />
      <dl className="bearing">
        <BearingLine name={B.withPad(cell.capacity.padLabel)} solved={cell.capacity.withPad} units={units} />
        {cell.capacity.withoutPad !== null && (
          <BearingLine name={B.withoutPad} solved={cell.capacity.withoutPad} units={units} />
        )}
        <div>
          <dt>{B.ruleOfThumb}</dt>
          <dd>
            <Masses newtons={cell.capacity.ruleOfThumbN} units={units} />
          </dd>
        </div>
        <div>
          <dt>{B.rider}</dt>
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
    if (ratio === null) return T.closest;
    return T.closestOver(words, ratio.toFixed(1), inCase);
  }
  if (reason !== null) return reason;
  return choice.isInSeatRange ? T.compared : T.otherSeat;
}

function CaseLine({ one, units }: { one: SizeCase; units: Units }) {
  const { name, status, p95PressureKPa, meanPressureKPa, peakPressureKPa, findings } = one;
  return (
    <li>
      <strong>{name}</strong>
      {status !== 'settled' && `: ${status}`}
      <span className="small soft case-figures">
        {T.mean} <Figure of={pressureFigure(meanPressureKPa, units)} />
        {T.p95} <Figure of={pressureFigure(p95PressureKPa, units)} />
        {T.peak} <Figure of={pressureFigure(peakPressureKPa, units)} />
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
  if (sorted.length === 0) return T.noFinding;
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
