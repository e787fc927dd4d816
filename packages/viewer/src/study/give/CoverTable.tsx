import type { CoverRow, CoverShift, GiveStudy, InputErrorDetails } from '@barwright/geometry';
import { type FormEvent, useEffect, useRef, useState } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { angleFigure, figureText, lengthFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { useDocument, useView } from '../../state/index.ts';
import { Interrupted } from '../../worker/worker-line.ts';
import { typedMm } from '../shoulder/in-units.ts';
import { onBench } from '../shoulder/on-bench.ts';
import { studyLine } from '../study-line.ts';
import { VariantRow, VariantTable } from './VariantRow.tsx';

const T = TEXTS.give;

/** What a rawhide cover that draws in or lets out does to the tree, and a shift of one's own. */
export function CoverTable({ study: { cover } }: { study: GiveStudy }) {
  const units = useView((view) => view.units);
  const own = useOwnShift();
  if (cover.length === 0) return null;
  const asMade = cover[0]!.figures;
  const rows = own.row === null ? cover : [...cover, own.row];
  return (
    <section className="give-cover" aria-label={T.cover}>
      <h3>{T.cover}</h3>
      <p className="small soft">{T.coverNote}</p>
      <OwnShift units={units} isWorking={own.isWorking} onAsk={own.ask} />
      {own.error !== null && <Problem problem={own.error} />}
      <VariantTable caption={T.cover} first={T.coverShift}>
        {rows.map((row, i) => (
          <VariantRow
            // biome-ignore lint/suspicious/noArrayIndexKey: rows keep their places
            key={i}
            name={
              <>
                {row.name}
                <small className="give-changed">{shiftWords(row, units)}</small>
              </>
            }
            figures={row.figures}
            beside={i === 0 ? null : asMade}
          />
        ))}
      </VariantTable>
    </section>
  );
}

const shiftWords = ({ angleDeg, spreadMm }: CoverShift, units: Units): string =>
  T.shift(figureText(angleFigure(angleDeg, true)), figureText(lengthFigure(spreadMm, units, { signed: true })));

function OwnShift({
  units,
  isWorking,
  onAsk,
}: {
  units: Units;
  isWorking: boolean;
  onAsk: (shift: CoverShift) => void;
}) {
  const [angle, setAngle] = useState('-1');
  const [spread, setSpread] = useState(units.length === 'in' ? '-1/16' : '-2');
  const angleDeg = typedMm(angle, { ...units, length: 'mm' });
  const spreadMm = typedMm(spread, units);
  const isGood = Math.abs(angleDeg) <= MOST_DEG && Math.abs(spreadMm) <= MOST_MM;
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if (isGood) onAsk({ angleDeg, spreadMm });
  };
  return (
    <form className="clears-ask" onSubmit={submit}>
      <label>
        {T.ownAngle}{' '}
        <input type="text" size={5} value={angle} onChange={(event) => setAngle(event.currentTarget.value)} /> °
      </label>
      <label>
        {T.ownSpread}{' '}
        <input type="text" size={5} value={spread} onChange={(event) => setSpread(event.currentTarget.value)} />{' '}
        {units.length}
      </label>
      <button type="submit" disabled={!isGood || isWorking}>
        {T.workOut}
      </button>
      {!isGood && <span className="small soft">{T.ownRange}</span>}
    </form>
  );
}

const MOST_DEG = 10;
const MOST_MM = 20;

/** Settled on request; forgotten when the bench changes. */
function useOwnShift() {
  const pattern = useDocument((documents) => documents.pattern);
  const setup = useDocument((documents) => documents.setup);
  const back = useDocument((documents) => documents.back);
  const [row, setRow] = useState<CoverRow | null>(null);
  const [error, setError] = useState<InputErrorDetails | null>(null);
  const [isWorking, setWorking] = useState(false);
  const round = useRef(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: any of these makes the row one of another tree
  useEffect(() => {
    round.current++;
    setRow(null);
    setError(null);
    setWorking(false);
  }, [pattern, setup, back]);
  const ask = async (shift: CoverShift): Promise<void> => {
    const mine = ++round.current;
    setWorking(true);
    try {
      const answer = await studyLine().ask((service) => service.giveCover(onBench(), shift));
      if (mine !== round.current) return;
      setRow(answer.ok ? { ...answer.value, name: T.ownShift } : null);
      setError(answer.ok ? null : answer.error);
    } catch (fault) {
      if (!(fault instanceof Interrupted)) throw fault;
    } finally {
      if (mine === round.current) setWorking(false);
    }
  };
  return { row, error, isWorking, ask: (shift: CoverShift) => void ask(shift) };
}
