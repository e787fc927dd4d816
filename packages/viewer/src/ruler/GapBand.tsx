import type { BarProfile, ClearanceScale } from '@barwright/geometry';
import { useId } from 'react';
import { figureText, gapFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { areaPath, linePath, mapped, missingRuns, valueAt } from './curve-path.ts';
import type { RulerFrame } from './frame.ts';
import { spreadLabels } from './ruler-scale.ts';

const T = TEXTS.ruler;

export interface GapBandProps {
  readonly frame: RulerFrame;
  readonly profile: BarProfile;
  /** The same bar laid on, drawn beside the loaded curve so that a bridge shows under a squeezed pad too. */
  readonly laidOn: BarProfile | null;
  readonly name: string;
  readonly topPx: number;
  readonly heightPx: number;
  readonly limits: ClearanceScale;
  readonly isMarked: boolean;
}

/** Gap of one bar along the ruler: inner, bearing and outer line; daylight up in teal, squeeze down in plum. */
export function GapBand({ frame, profile, laidOn, name, topPx, heightPx, limits, isMarked }: GapBandProps) {
  const id = useId();
  const { scale } = frame;
  const span = limits.clearMm + limits.squeezeMm;
  const toY = (gapMm: number): number => topPx + (heightPx * (limits.clearMm - gapMm)) / span;
  const x = mapped(profile.xMm, scale.toPx);
  const y = mapped(profile.bearingGapMm, toY);
  const zero = toY(0);
  const left = scale.toPx(scale.fromMm);
  const width = scale.toPx(scale.toMm) - left;
  return (
    <g className={isMarked ? 'band marked' : 'band'}>
      <clipPath id={`${id}a`}>
        <rect x={left} y={topPx} width={width} height={Math.max(0, zero - topPx)} />
      </clipPath>
      <clipPath id={`${id}b`}>
        <rect x={left} y={zero} width={width} height={Math.max(0, topPx + heightPx - zero)} />
      </clipPath>
      <clipPath id={`${id}c`}>
        <rect x={left} y={topPx} width={width} height={heightPx} />
      </clipPath>
      <rect className="ground" x={left} y={topPx} width={width} height={heightPx} />
      <g clipPath={`url(#${id}a)`}>
        <path className="tint-clear" d={areaPath(x, y, zero)} />
      </g>
      <g clipPath={`url(#${id}b)`}>
        <path className="tint-squeeze" d={areaPath(x, y, zero)} />
      </g>
      {missingRuns(profile.bearingGapMm).map(([from, to]) => (
        <rect
          key={from}
          className="no-data"
          x={x[from]!}
          y={topPx}
          width={Math.max(1, x[to]! - x[from]!)}
          height={heightPx}
        />
      ))}
      <line className="zero" x1={left} x2={left + width} y1={zero} y2={zero} />
      <g clipPath={`url(#${id}c)`}>
        <path className="line inner" d={linePath(x, mapped(profile.innerGapMm, toY))} />
        <path className="line outer" d={linePath(x, mapped(profile.outerGapMm, toY))} />
        <path className="line bearing" d={linePath(x, y)} />
        {laidOn !== null && (
          <path
            className="line laid-on"
            d={linePath(mapped(laidOn.xMm, scale.toPx), mapped(laidOn.bearingGapMm, toY))}
          />
        )}
      </g>
      <GapScale frame={frame} topPx={topPx} heightPx={heightPx} limits={limits} zeroY={zero} name={name} />
      <CurveNames frame={frame} profile={profile} laidOn={laidOn} toY={toY} topPx={topPx} heightPx={heightPx} />
      <GapAtStation frame={frame} profile={profile} toY={toY} topPx={topPx} heightPx={heightPx} />
    </g>
  );
}

interface PartProps {
  readonly frame: RulerFrame;
  readonly topPx: number;
  readonly heightPx: number;
}

function GapScale({
  frame,
  topPx,
  heightPx,
  limits,
  zeroY,
  name,
}: PartProps & { limits: ClearanceScale; zeroY: number; name: string }) {
  const left = frame.scale.toPx(frame.scale.fromMm);
  const end = (mm: number): string => figureText(gapFigure(mm, frame.units, { decimals: 0 }));
  if (frame.isNarrow)
    return (
      <text className="name" x={left + 4} y={topPx + 11}>
        {name}
      </text>
    );
  return (
    <g>
      <text className="name" x={8} y={zeroY + 4}>
        {name}
      </text>
      <text className="tick clear" x={left - 6} y={topPx + 10} textAnchor="end">
        {end(limits.clearMm)}
      </text>
      <text className="tick" x={left - 6} y={zeroY + 4} textAnchor="end">
        0
      </text>
      <text className="tick squeeze" x={left - 6} y={topPx + heightPx - 2} textAnchor="end">
        {end(limits.squeezeMm)}
      </text>
    </g>
  );
}

/** Names of the three lines at the bar's rear end, where they have room. */
function CurveNames({
  frame,
  profile,
  laidOn,
  toY,
  topPx,
  heightPx,
}: PartProps & { profile: BarProfile; laidOn: BarProfile | null; toY: (mm: number) => number }) {
  const last = profile.xMm.length - 1;
  const lines = [
    { name: T.inner, mm: lastKnown(profile.innerGapMm), kind: 'inner' },
    { name: T.bearing, mm: lastKnown(profile.bearingGapMm), kind: 'bearing' },
    { name: T.outer, mm: lastKnown(profile.outerGapMm), kind: 'outer' },
    { name: T.laidOnCurve, mm: laidOn === null ? Number.NaN : lastKnown(laidOn.bearingGapMm), kind: 'laid-on' },
  ].filter((line) => !Number.isNaN(line.mm));
  const x = frame.scale.toPx(profile.xMm[last]!) + 5;
  const end = frame.scale.toPx(frame.scale.toMm);
  if (lines.length === 0 || x + 44 > Math.max(end, frame.widthPx)) return null;
  const places = spreadLabels(
    lines.map((line) => toY(line.mm) + 3),
    11,
    topPx + 9,
    topPx + heightPx - 2,
  );
  return (
    <g>
      {lines.map((line, i) => (
        <text key={line.kind} className={`curve-name ${line.kind}`} x={x} y={places[i]}>
          {line.name}
        </text>
      ))}
    </g>
  );
}

function lastKnown(values: Float64Array): number {
  for (let i = values.length - 1; i >= 0; i--) if (!Number.isNaN(values[i]!)) return values[i]!;
  return Number.NaN;
}

/** Figure of the bearing line where the station marker stands. */
function GapAtStation({
  frame,
  profile,
  toY,
  topPx,
  heightPx,
}: PartProps & { profile: BarProfile; toY: (mm: number) => number }) {
  const { xMm } = profile;
  const { stationXMm } = frame;
  if (stationXMm < xMm[0]! || stationXMm > xMm[xMm.length - 1]!) return null;
  const gap = valueAt(xMm, profile.bearingGapMm, stationXMm);
  const x = frame.scale.toPx(stationXMm);
  const y = Number.isNaN(gap) ? topPx + heightPx / 2 : Math.min(topPx + heightPx, Math.max(topPx, toY(gap)));
  const atEnd = x > frame.scale.toPx(frame.scale.toMm) - 110;
  return (
    <g>
      {!Number.isNaN(gap) && <circle className="dot" cx={x} cy={y} r={3} />}
      <text
        className={`gap-said ${gap >= 0 ? 'clear' : 'squeeze'}`}
        x={x + (atEnd ? -8 : 8)}
        y={gap >= 0 ? Math.min(topPx + heightPx - 4, toY(0) + 14) : Math.max(topPx + 11, toY(0) - 6)}
        textAnchor={atEnd ? 'end' : 'start'}
      >
        {sayGap(gap, frame.units)}
      </text>
    </g>
  );
}

/** "clear 3.2 mm", "squeeze 1.1 mm". */
export function sayGap(gapMm: number | null, units: RulerFrame['units']): string {
  if (gapMm === null || Number.isNaN(gapMm)) return TEXTS.noData;
  const figure = figureText(gapFigure(Math.abs(gapMm), units));
  return `${gapMm >= 0 ? TEXTS.clear : TEXTS.squeeze} ${figure}`;
}
