import { type KeyboardEvent, type PointerEvent, type ReactNode, useRef } from 'react';

export interface HandleProps {
  readonly label: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** The value in words with its unit. */
  readonly text: string;
  /** Value under a pointer there. */
  readonly valueAt: (clientX: number, clientY: number) => number;
  readonly orientation?: 'horizontal' | 'vertical';
  readonly onChange: (value: number) => void;
  readonly onStart?: (() => void) | undefined;
  readonly onEnd?: (() => void) | undefined;
  /** Enter or a double click: the value is to be typed. */
  readonly onType?: (() => void) | undefined;
  readonly children: ReactNode;
}

/** Something on the ruler that is dragged or stepped with the arrow keys. Keeps the offset it was taken at. */
export function Handle(props: HandleProps) {
  const { label, value, min, max, step, text, valueAt, onChange, onStart, onEnd, onType, children } = props;
  const orientation = props.orientation ?? 'horizontal';
  const offset = useRef<number | null>(null);
  const from = useRef<number | null>(null);
  const set = (next: number): void => onChange(Math.min(max, Math.max(min, next)));

  const down = (event: PointerEvent<SVGGElement>): void => {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    offset.current = value - valueAt(event.clientX, event.clientY);
    from.current = event.clientX + event.clientY;
    onStart?.();
  };
  const move = (event: PointerEvent<SVGGElement>): void => {
    if (offset.current === null) return;
    // A touch that does not move keeps the value that is not on a whole step.
    if (from.current === event.clientX + event.clientY) return;
    from.current = null;
    set(Math.round((valueAt(event.clientX, event.clientY) + offset.current) / step) * step);
  };
  const up = (): void => {
    if (offset.current === null) return;
    offset.current = null;
    onEnd?.();
  };

  const key = (event: KeyboardEvent): void => {
    if (event.key === 'Enter' && onType !== undefined) {
      event.preventDefault();
      onType();
      return;
    }
    const next = keyStep(event.key, event.shiftKey, { value, min, max, step });
    if (next === null) return;
    event.preventDefault();
    set(next);
  };

  return (
    <g
      className={orientation === 'vertical' ? 'handle upright' : 'handle'}
      role="slider"
      aria-orientation={orientation}
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
      onDoubleClick={onType}
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
