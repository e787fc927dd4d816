import { besidePublished, type FitResult, InputError, remeasureDue, type Setup } from '@barwright/geometry';
import type { ReactNode } from 'react';
import { Figure } from '../look/Figure.tsx';
import {
  angleFigure,
  areaFigure,
  decimalFigure,
  type FigureParts,
  figureText,
  forceFigure,
  gapFigure,
  lengthFigure,
  pressureFigure,
  shareFigure,
  type Units,
} from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { todayIso } from '../look/today.ts';
import { WithWord } from '../words/Word.tsx';
import { CautionFor } from './Cautions.tsx';

const T = TEXTS.reading;

interface FiguresProps {
  readonly result: FitResult;
  readonly units: Units;
}

export function Line({ name, title, children }: { name: string; title?: string; children: ReactNode }) {
  return (
    <div className="line">
      <dt title={title}>
        <WithWord text={name} />
      </dt>
      <dd>{children}</dd>
    </div>
  );
}

export const Figures = ({ of }: { of: readonly FigureParts[] }) => (
  <>
    {of.map((figure, i) => (
      // biome-ignore lint/suspicious/noArrayIndexKey: front, middle, rear stay in their places
      <span key={i}>
        {i > 0 && ' / '}
        <Figure of={figure} />
      </span>
    ))}
  </>
);

/** Area and mean never stand alone: 95th percentile, peak and thirds beside them. */
export function PressureFigures({ result, units }: FiguresProps) {
  const { contact } = result;
  const hasContact = contact.areaCm2 > 0;
  return (
    <section aria-label={T.pressure}>
      <h3>{T.pressure}</h3>
      <dl>
        <Line name={T.area}>
          <Figure of={areaFigure(contact.areaCm2, units)} />, <Figure of={shareFigure(contact.fraction)} />{' '}
          {T.areaShare}
        </Line>
        <Line name={T.mean}>
          <Figure of={pressureFigure(contact.meanPressureKPa, units)} />
        </Line>
        <Line name={T.p95}>
          <Figure of={pressureFigure(contact.p95PressureKPa, units)} />
        </Line>
        <Line name={T.peak}>
          <Figure of={pressureFigure(contact.peakPressureKPa, units)} />{' '}
          {T.peakCell(figureText(decimalFigure(contact.averagingCellCm2, 'cm²', 0)))}
        </Line>
        <Line name={T.thirds}>
          <Figures of={[contact.shareFront, contact.shareMiddle, contact.shareRear].map((s) => shareFigure(s))} />
        </Line>
        <Line name={T.sides}>
          <Figures of={[contact.shareLeft, contact.shareRight].map((s) => shareFigure(s))} />
        </Line>
      </dl>
      {hasContact && <Published result={result} />}
      <CautionFor id="relative-pressure" />
    </section>
  );
}

/** Where mean and peak lie beside published figures: words and their source, never a verdict. */
function Published({ result }: { result: FitResult }) {
  const { meanPressureKPa, peakPressureKPa } = result.contact;
  return (
    <div className="published small">
      <p>
        {T.mean} {besidePublished(meanPressureKPa, 'mean')}.
      </p>
      <p>
        {T.peak} {besidePublished(peakPressureKPa, 'peak')}.
      </p>
      <p className="soft">
        {T.publishedNote} {T.publishedSource}.
      </p>
    </div>
  );
}

export function PoseFigures({ result, units }: FiguresProps) {
  const { pose, spine, mismatch, reactions } = result;
  const turn = (deg: number, plus: string, minus: string): ReactNode => (
    <>
      <Figure of={angleFigure(deg, true)} /> {Math.abs(deg) < 0.05 ? '' : deg > 0 ? plus : minus}
    </>
  );
  return (
    <section aria-label={T.pose}>
      <h3>{T.pose}</h3>
      <dl>
        <Line name={T.height}>
          <Figure of={lengthFigure(pose.heightMm, units)} />
        </Line>
        <Line name={T.pitch}>{turn(pose.pitchDeg, T.pitchUp, T.pitchDown)}</Line>
        <Line name={T.roll}>{turn(pose.rollDeg, T.rollRight, T.rollLeft)}</Line>
        <Line name={T.lengthwise} title={T.lengthwiseNote}>
          {TEXTS.left} <Figure of={gapFigure(mismatch.lengthwiseLeftMm, units, { signed: true })} />, {TEXTS.right}{' '}
          <Figure of={gapFigure(mismatch.lengthwiseRightMm, units, { signed: true })} />
        </Line>
        <Line name={T.spineFork}>
          <Figure of={lengthFigure(spine.atForkMm, units, { decimals: 0 })} />
        </Line>
        <Line name={T.spineAlong}>
          <Figure of={lengthFigure(spine.alongMm, units, { decimals: 0 })} />
          {spine.alongAtXMm !== null && (
            <>
              {' '}
              {TEXTS.cut.at} <Figure of={lengthFigure(spine.alongAtXMm, units, { decimals: 0 })} />
            </>
          )}
        </Line>
        <Line name={T.channel}>
          <Figure of={lengthFigure(spine.channelMm, units, { decimals: 0 })} />
        </Line>
        <Line name={T.heldForces} title={T.heldNote}>
          {T.fore} <Figure of={forceFigure(reactions.xN, units)} />, {T.sideways}{' '}
          <Figure of={forceFigure(reactions.yN, units)} />
        </Line>
      </dl>
    </section>
  );
}

/** Rule of thumb and solved loads, always with what they are not. */
export function CapacityFigures({ result, units, limits }: FiguresProps & { limits: Setup['limits'] }) {
  const { capacity } = result;
  if (capacity === null) return null;
  const words = [
    `${T.mean.toLowerCase()} ${figureText(pressureFigure(limits.meanKPa, units))}`,
    `${T.peak.toLowerCase()} ${figureText(pressureFigure(limits.peakKPa, units))}`,
    ...(limits.p95KPa === null ? [] : [`${T.p95} ${figureText(pressureFigure(limits.p95KPa, units))}`]),
    `${T.ruleOfThumb.toLowerCase()} ${capacity.ruleOfThumbPsi} psi`,
  ];
  return (
    <section className="capacity" aria-label={T.capacity}>
      <h3>{T.capacity}</h3>
      <CautionFor id="capacity" />
      <dl>
        <Line name={T.ruleOfThumb}>
          <Figure of={forceFigure(capacity.ruleOfThumbN, units)} />
        </Line>
        {capacity.solved.map((solved) => (
          <Line key={solved.loadAtPercent} name={`${T.solved} ${solved.loadAtPercent} %`}>
            {solved.firstN === null ? (
              T.notReached
            ) : (
              <>
                <Figure of={forceFigure(solved.firstN, units)} />, {reachedName(solved.firstReached)} {T.firstAt}
              </>
            )}
          </Line>
        ))}
      </dl>
      <p className="small soft">{T.capacityAssume(words.join(', '))}</p>
    </section>
  );
}

const reachedName = (which: 'mean' | 'p95' | 'peak' | null): string =>
  which === null ? '' : { mean: T.mean.toLowerCase(), p95: T.p95, peak: T.peak.toLowerCase() }[which];

export function TrustFigures({
  result,
  units,
  measured,
}: FiguresProps & { measured: { by: string; on: string; uncertaintyMm: number; uncertaintyDeg: number } | null }) {
  const { accuracy, coverage, load } = result;
  return (
    <section aria-label={T.trust}>
      <h3>{T.trust}</h3>
      <dl>
        <Line name={T.coverage}>
          <Figure of={shareFigure(coverage.excludedFraction, 1)} />
        </Line>
        <Line name={accuracy.path === 'fast' ? T.pathFast : T.pathExact}>
          {Number.isNaN(accuracy.boundMm) ? (
            T.boundUnknown
          ) : (
            <>
              {T.bound} <Figure of={decimalFigure(accuracy.boundMm, 'mm', 3)} />,{' '}
              <Figure of={decimalFigure(accuracy.boundKPa, 'kPa', 2)} />
            </>
          )}
        </Line>
        {accuracy.gridErrorPercent !== null && (
          <Line name={T.gridError}>
            <Figure of={decimalFigure(accuracy.gridErrorPercent, '%', 1)} />
          </Line>
        )}
        <Line name={T.residual}>
          <Figure of={decimalFigure(load.residualN, 'N', 3)} />
        </Line>
      </dl>
      {measured !== null && (
        <p className="small soft">
          {T.measured(measured.by, measured.on)}, ±<Figure of={gapFigure(measured.uncertaintyMm, units)} />, ±
          <Figure of={angleFigure(measured.uncertaintyDeg)} />.
        </p>
      )}
      {measured !== null && <MeasureAgain measured={measured} />}
    </section>
  );
}

/** One quiet line once a back is old enough to be measured again, or is dated ahead of the day. */
function MeasureAgain({ measured }: { measured: { on: string } }) {
  const said = measureAgainWords(measured, todayIso());
  return said === null ? null : <p className="small">{said}</p>;
}

function measureAgainWords(measured: { on: string }, today: string): string | null {
  try {
    const { due, sentence } = remeasureDue({ measured }, today);
    return due || measured.on > today ? sentence : null;
  } catch (error) {
    if (error instanceof InputError) return T.noSuchDay(measured.on);
    throw error;
  }
}
