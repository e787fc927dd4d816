import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import type { Px } from './photo-work.ts';

export interface HandleProps {
  readonly at: Px;
  readonly screen: Px;
  readonly scale: number;
  readonly label: string;
  readonly shape: 'corner' | 'point' | 'level';
  readonly isLoose?: boolean;
  readonly caption?: string;
  /** On which side of the handle the caption stands; default right. */
  readonly captionOn?: 'left' | 'right';
  /** `step` is the same for all moves of one drag, or of arrow keys in a row. */
  readonly onMove: (to: Px, step: string) => void;
  readonly onHold: (held: Px | null) => void;
  readonly onRemove?: () => void;
}

let drags = 0;

/** A place on the photo that is dragged, or moved by arrow keys: one pixel of the photo, ten with Shift. */
export function Handle({
  at,
  screen,
  scale,
  label,
  shape,
  isLoose,
  caption,
  captionOn = 'right',
  onMove,
  onHold,
  onRemove,
}: HandleProps) {
  const drag = useRef<{ step: string; fromX: number; fromY: number; at: Px } | null>(null);
  const down = (event: PointerEvent<SVGGElement>): void => {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    drag.current = { step: `drag ${++drags}`, fromX: event.clientX, fromY: event.clientY, at };
    onHold(at);
  };
  const move = (event: PointerEvent<SVGGElement>): void => {
    const from = drag.current;
    if (from === null) return;
    const to: Px = [
      from.at[0] + (event.clientX - from.fromX) / scale,
      from.at[1] + (event.clientY - from.fromY) / scale,
    ];
    if (Math.hypot(event.clientX - from.fromX, event.clientY - from.fromY) < 2 && at === from.at) return;
    onMove(to, from.step);
    onHold(to);
  };
  const up = (): void => {
    drag.current = null;
    onHold(null);
  };
  const pressed = (event: KeyboardEvent<SVGGElement>): void => {
    const by = STEPS[event.key];
    if (by !== undefined) {
      const size = event.shiftKey ? 10 : 1;
      const to: Px = [at[0] + by[0] * size, at[1] + by[1] * size];
      onMove(to, `keys ${label}`);
      onHold(to);
    } else if ((event.key === 'Delete' || event.key === 'Backspace') && onRemove !== undefined) {
      onRemove();
      onHold(null);
      // What had the focus is gone: its photo takes it.
      event.currentTarget.ownerSVGElement?.focus();
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: an SVG group can't be an HTML button
    <g
      className={`photo-handle ${shape}${isLoose ? ' loose' : ''}`}
      transform={`translate(${screen[0]} ${screen[1]})`}
      role="button"
      tabIndex={0}
      aria-label={label}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      onKeyDown={pressed}
      onBlur={() => onHold(null)}
    >
      <circle className="reach" r={shape === 'point' ? 11 : 16} />
      {shape === 'corner' && <path className="cross" d="M-12 0H-3M3 0H12M0 -12V-3M0 3V12" />}
      {shape === 'level' && <path className="cross" d="M-10 0H-3M3 0H10" />}
      <circle className="knob" r={shape === 'point' ? 4.5 : 7} />
      {caption !== undefined && (
        <text
          className="caption"
          x={captionOn === 'right' ? 12 : -12}
          y={-9}
          textAnchor={captionOn === 'right' ? 'start' : 'end'}
        >
          {caption}
        </text>
      )}
    </g>
  );
}

const STEPS: Readonly<Record<string, Px>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
