import type { BarProfile } from '@barwright/geometry';
import { useRef } from 'react';
import { figureText, lengthFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { valueAt } from './curve-path.ts';
import type { RulerFrame } from './frame.ts';
import { Handle } from './Handle.tsx';
import type { RockRange } from './rock-sag.ts';
import type { SideScale } from './side-scale.ts';
import type { TypedAt } from './TypeHere.tsx';

const T = TEXTS.handles;

/** A length that is drawn on the bar's side view, mm, with its ends. */
export interface ShapeLength {
  readonly mm: number;
  readonly minMm: number;
  readonly maxMm: number;
}

/** What of the bars' side view can be taken hold of. null: the value is written with others, and changed on the card. */
export interface BarSide {
  readonly rock: (ShapeLength & { readonly range: RockRange; readonly lowPointMm: number }) | null;
  readonly flareFront: ShapeLength | null;
  readonly flareRear: ShapeLength | null;
}

export type ShapeName = keyof BarSide;

export interface ShapeHandlesProps {
  readonly frame: RulerFrame;
  readonly profile: BarProfile;
  readonly side: SideScale;
  readonly bar: BarSide;
  readonly onShape: (name: ShapeName, mm: number, fromMm: number) => void;
  readonly onType: (at: TypedAt) => void;
  readonly onDragStart?: (() => void) | undefined;
  readonly onDragEnd?: (() => void) | undefined;
}

/** Handles on the bar's own line: its middle down for more rock, its tips up for more flare. */
export function ShapeHandles(props: ShapeHandlesProps) {
  const { frame, profile, bar } = props;
  const { xMm } = profile;
  const [front, rear] = [xMm[0]!, xMm[xMm.length - 1]!];
  // On a phone the middle of the curve lies on the load's own mark.
  const beside = frame.isNarrow ? NARROW_ASIDE_PX / frame.scale.pxPerMm : 0;
  return (
    <g>
      {bar.rock !== null && (
        <ShapeHandle {...props} name="rock" of={bar.rock} xMm={front + bar.rock.lowPointMm + beside} sign={1} />
      )}
      {bar.flareFront !== null && (
        <ShapeHandle {...props} name="flareFront" of={bar.flareFront} xMm={front} sign={-1} />
      )}
      {bar.flareRear !== null && <ShapeHandle {...props} name="flareRear" of={bar.flareRear} xMm={rear} sign={-1} />}
      {frame.isNarrow ? null : <title>{T.hint}</title>}
    </g>
  );
}

const NARROW_ASIDE_PX = 72;
/** Where the words stand beside a knob: at the tips over the bar's own end. */
const TEXT_ASIDE = {
  rock: { px: 9, anchor: 'start' },
  flareFront: { px: -9, anchor: 'end' },
  flareRear: { px: 9, anchor: 'end' },
} as const;

/** Half a millimetre, or a thirty-second of an inch. */
const stepOf = (unit: 'mm' | 'in'): number => (unit === 'mm' ? 0.5 : 25.4 / 32);

function ShapeHandle({
  frame,
  profile,
  side,
  name,
  of,
  xMm,
  sign,
  onShape,
  onType,
  onDragStart,
  onDragEnd,
}: ShapeHandlesProps & { name: ShapeName; of: ShapeLength; xMm: number; sign: 1 | -1 }) {
  // While it is dragged the drawing may take another scale; the hand keeps the one it began with.
  const held = useRef<number | null>(null);
  const text = figureText(lengthFigure(of.mm, frame.units));
  const x = frame.scale.toPx(xMm);
  const y = side.toY(valueAt(profile.xMm, profile.barZMm, xMm));
  return (
    <Handle
      label={T[name]}
      text={text}
      value={of.mm}
      min={of.minMm}
      max={of.maxMm}
      step={stepOf(frame.units.length)}
      orientation="vertical"
      valueAt={(_, clientY) => (sign * clientY) / (frame.zoom ?? 1) / (held.current ?? side.pxPerMm)}
      onChange={(mm) => onShape(name, mm, of.mm)}
      onType={() => onType({ name, label: T[name], mm: of.mm, xPx: x, yPx: y })}
      onStart={() => {
        held.current = side.pxPerMm;
        onDragStart?.();
      }}
      onEnd={() => {
        held.current = null;
        onDragEnd?.();
      }}
    >
      <rect className="hit" x={x - 13} y={y - 13} width={26} height={26} />
      <path className="knob" d={`M${x} ${y - 8}l5 6h-3v4h3l-5 6l-5 -6h3v-4h-3z`} />
      {!frame.isNarrow && (
        <text className="handle-text" x={x + TEXT_ASIDE[name].px} y={y - 9} textAnchor={TEXT_ASIDE[name].anchor}>
          {T.short[name]} {text}
        </text>
      )}
    </Handle>
  );
}
