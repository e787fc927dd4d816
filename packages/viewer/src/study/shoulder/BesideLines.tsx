import type { Setup } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { figureText, gapFigure, lengthFigure, pressureFigure } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { useDocument, useView } from '../../state/index.ts';
import { BESIDES, type Beside, CREEP_MM, otherMinutes, otherThan } from './beside.ts';
import { askBeside, useStride } from './stride-store.ts';

const T = TEXTS.shoulder;

/** What each stride beside the one on show is called, short enough for a line of a chart. */
export function useBesideNames(): Readonly<Record<Beside, string>> {
  const setup = useDocument((documents) => documents.setup);
  return {
    crept: T.crept,
    bars: otherThan(setup.flex.bars),
    warmth: otherMinutes(setup.warmth) === 0 ? T.cold : T.warm,
  };
}

/** Strides under another condition, on the same axes: asked for one by one, and told in figures. */
export function BesideLines() {
  return (
    <>
      {BESIDES.map((beside) => (
        <BesideLine key={beside} beside={beside} />
      ))}
    </>
  );
}

function BesideLine({ beside }: { beside: Beside }) {
  const units = useView((view) => view.units);
  const isAsked = useStride((stride) => stride.asked[beside]);
  const other = useStride((stride) => stride.beside[beside]);
  const own = useStride((stride) => stride.shown?.result);
  const setup = useDocument((documents) => documents.setup);
  const name = useBesideNames()[beside];
  return (
    <div className="creep">
      <label>
        <input type="checkbox" checked={isAsked} onChange={(event) => askBeside(beside, event.currentTarget.checked)} />{' '}
        {questionOf(beside, setup, figureText(lengthFigure(CREEP_MM, units, { decimals: 0 })))}
      </label>
      {isAsked && other === null && <span className="small soft">{T.working}</span>}
      {isAsked && other !== null && own !== undefined && (
        <p className="small">
          {T.dashed(name)}{' '}
          {other.tips.map((tip, i) => {
            const now = own.tips[i as 0 | 1];
            return (
              <span key={tip.side}>
                {i > 0 && '; '}
                {tip.side}: {T.least} <Figure of={gapFigure(tip.leastGapMm, units)} /> ({T.now}{' '}
                <Figure of={gapFigure(now.leastGapMm, units)} />
                ), {T.most} <Figure of={pressureFigure(tip.highestPressureKPa, units)} /> ({T.now}{' '}
                <Figure of={pressureFigure(now.highestPressureKPa, units)} />)
              </span>
            );
          })}
          . {T.readTogether[beside]}
        </p>
      )}
    </div>
  );
}

function questionOf(beside: Beside, { flex, warmth }: Setup, creep: string): string {
  if (beside === 'crept') return T.creep(creep);
  if (beside === 'bars') return T.beside(flex.bars, otherThan(flex.bars));
  return T.warmth(warmth.minutes, otherMinutes(warmth));
}
