import { type KeyboardEvent, type PointerEvent, type ReactNode, useRef } from 'react';

export interface HandleProps {
  readonly label: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** The value in words with its unit. */
  readonly text: string;
  /** Value under a pointer at this clientX. */
  readonly valueAt: (clientX: number) => number;
  readonly onChange: (value: number) => void;
  readonly onStart?: (() => void) | undefined;
  readonly onEnd?: (() => void) | undefined;
  readonly children: ReactNode;
}

/** Something on the ruler that is dragged sideways or stepped with the arrow keys. Keeps the offset it was taken at. */
export function Handle(props: HandleProps) {
  const { label, value, min, max, step, text, valueAt, onChange, onStart, onEnd, children } = props;
  const offset = useRef<number | null>(null);
  const set = (next: number): void => onChange(Math.min(max, Math.max(min, next)));

  const down = (event: PointerEvent<SVGGElement>): void => {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    offset.current = value - valueAt(event.clientX);
    onStart?.();
  };
  const move = (event: PointerEvent<SVGGElement>): void => {
    if (offset.current === null) return;
    set(Math.round((valueAt(event.clientX) + offset.current) / step) * step);
  };
  const up = (): void => {
    if (offset.current === null) return;
    offset.current = null;
    onEnd?.();
  };

  const key = (event: KeyboardEvent): void => {
    const next = keyStep(event.key, event.shiftKey, { value, min, max, step });
    if (next === null) return;
    event.preventDefault();
    set(next);
  };

  return (
    <g
      className="handle"
      role="slider"
      tabIndex={0}
      aria-label={label}
      aria-valuemin={min}
      aria-valuemax={max}
      aria-valuenow={Math.round(value * 10) / 10}
      aria-valuetext={text}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      onLostPointerCapture={up}
      onKeyDown={key}
    >
      {children}
    </g>
  );
}

interface Range {
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
}

function keyStep(key: string, big: boolean, { value, min, max, step }: Range): number | null {
  const by = step * (big ? 10 : 1);
  switch (key) {
    case 'ArrowLeft':
    case 'ArrowDown':
      return value - by;
    case 'ArrowRight':
    case 'ArrowUp':
      return value + by;
    case 'PageDown':
      return value - 10 * step;
    case 'PageUp':
      return value + 10 * step;
    case 'Home':
      return min;
    case 'End':
      return max;
    default:
      return null;
  }
}
