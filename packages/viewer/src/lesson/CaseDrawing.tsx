import { type BarProfile, type ClearanceScale, clearanceColour, NO_DATA, toHex } from '@barwright/geometry';
import { figureText, lengthFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import type { HandoutCase } from './handout-cases.ts';

const T = TEXTS.handout;
const WIDTH = 360;
const LEFT = 34;
const CURVE = { top: 14, height: 44 };
const STRIP_PX = 6;
const STRIPS_TOP = CURVE.top + CURVE.height + 6;
const AXIS_Y = STRIPS_TOP + 6 * STRIP_PX + 6;
const HEIGHT = AXIS_Y + 14;
const TICK_MM = 100;

interface DrawingProps {
  readonly of: HandoutCase;
  readonly range: { readonly fromMm: number; readonly toMm: number };
  readonly scale: ClearanceScale;
  readonly units: Units;
}

/** Clearance laid on: the bearing line as a curve, and inner, bearing and outer line of both bars in the map's colours. */
export function CaseDrawing({ of, range, scale, units }: DrawingProps) {
  const { left, right } = of.view.laidOnProfiles;
  const toX = (mm: number): number => LEFT + ((mm - range.fromMm) / (range.toMm - range.fromMm)) * (WIDTH - LEFT - 4);
  const span = scale.clearMm + scale.squeezeMm;
  const toY = (mm: number): number => {
    const held = Math.min(scale.clearMm, Math.max(-scale.squeezeMm, mm));
    return CURVE.top + ((scale.clearMm - held) / span) * CURVE.height;
  };
  const strips: readonly (readonly [BarProfile, Float64Array])[] = [
    [left, left.outerGapMm],
    [left, left.bearingGapMm],
    [left, left.innerGapMm],
    [right, right.innerGapMm],
    [right, right.bearingGapMm],
    [right, right.outerGapMm],
  ];
  const end = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  return (
    <svg className="case-drawing" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={T.drawing(of.step.title)}>
      <rect className="case-ground" x={LEFT} y={CURVE.top} width={WIDTH - LEFT - 4} height={CURVE.height} />
      <line className="case-zero" x1={LEFT} x2={WIDTH - 4} y1={toY(0)} y2={toY(0)} />
      <path className="case-line case-left" d={curve(left, toX, toY)} />
      <path className="case-line" d={curve(right, toX, toY)} />
      {strips.map(([profile, gaps], i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: six lines in their places
        <Strip key={i} profile={profile} gaps={gaps} toX={toX} y={STRIPS_TOP + i * STRIP_PX} scale={scale} />
      ))}
      <Places of={of} toX={toX} />
      <Ticks range={range} toX={toX} units={units} />
      <g textAnchor="end">
        <text x={LEFT - 3} y={CURVE.top + 6}>
          {end(scale.clearMm)}
        </text>
        <text x={LEFT - 3} y={CURVE.top + CURVE.height}>
          {end(-scale.squeezeMm)}
        </text>
        <text x={LEFT - 3} y={STRIPS_TOP + 1.9 * STRIP_PX}>
          {TEXTS.left}
        </text>
        <text x={LEFT - 3} y={STRIPS_TOP + 4.9 * STRIP_PX}>
          {TEXTS.right}
        </text>
      </g>
    </svg>
  );
}

interface StripProps {
  readonly profile: BarProfile;
  readonly gaps: Float64Array;
  readonly toX: (mm: number) => number;
  readonly y: number;
  readonly scale: ClearanceScale;
}

function Strip({ profile, gaps, toX, y, scale }: StripProps) {
  const { xMm } = profile;
  return (
    <g>
      {Array.from(gaps.subarray(0, -1), (gap, i) => (
        <rect
          // biome-ignore lint/suspicious/noArrayIndexKey: places along the bar
          key={i}
          x={toX(xMm[i]!)}
          y={y}
          width={toX(xMm[i + 1]!) - toX(xMm[i]!) + 0.3}
          height={STRIP_PX - 0.5}
          fill={toHex(Number.isNaN(gap) ? NO_DATA : clearanceColour(gap, scale))}
        />
      ))}
    </g>
  );
}

function Places({ of, toX }: { of: HandoutCase; toX: (mm: number) => number }) {
  const { fromXMm, toXMm } = of.view.back.usable;
  return (
    <g>
      {[
        [fromXMm, TEXTS.ruler.bladeEdge],
        [toXMm, TEXTS.ruler.lastRib],
      ].map(([mm, name]) => (
        <g key={name}>
          <line className="case-place" x1={toX(Number(mm))} x2={toX(Number(mm))} y1={CURVE.top - 3} y2={AXIS_Y} />
          <text x={toX(Number(mm))} y={CURVE.top - 5} textAnchor="middle">
            {name}
          </text>
        </g>
      ))}
    </g>
  );
}

function Ticks({ range, toX, units }: Pick<DrawingProps, 'range' | 'units'> & { toX: (mm: number) => number }) {
  const first = Math.ceil(range.fromMm / TICK_MM) * TICK_MM;
  const ticks = Array.from({ length: Math.floor((range.toMm - first) / TICK_MM) + 1 }, (_, i) => first + i * TICK_MM);
  return (
    <g textAnchor="middle">
      <line className="case-zero" x1={LEFT} x2={WIDTH - 4} y1={AXIS_Y} y2={AXIS_Y} />
      {ticks.map((mm) => (
        <text key={mm} x={Math.min(WIDTH - 10, toX(mm))} y={AXIS_Y + 10}>
          {figureText({ ...lengthFigure(mm, units, { decimals: 0 }), unit: '' })}
        </text>
      ))}
    </g>
  );
}

/** The bearing line's clearance; broken where there is no data. */
function curve({ xMm, bearingGapMm }: BarProfile, toX: (mm: number) => number, toY: (mm: number) => number): string {
  let isOn = false;
  let path = '';
  for (const [i, gap] of bearingGapMm.entries()) {
    if (!Number.isNaN(gap)) path += `${isOn ? 'L' : 'M'}${toX(xMm[i]!).toFixed(1)} ${toY(gap).toFixed(1)}`;
    isOn = !Number.isNaN(gap);
  }
  return path;
}
