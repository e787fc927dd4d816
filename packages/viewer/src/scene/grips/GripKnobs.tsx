import { type PointerEvent, useRef, useState } from 'react';
import { figureText, lengthFigure } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { beginDrag, endDrag, useView } from '../../state/index.ts';
import type { GripHand } from './grip-store.ts';
import { type Grip, type GripName, type OnPage, pulled } from './grips-of.ts';
import './grips.css';

export interface GripKnobsProps {
  readonly hand: GripHand;
  readonly grips: readonly Grip[];
  readonly onPull: (grip: Grip, mm: number) => void;
}

/**
 * Knobs over the picture, for the pointer: the ruler's handles do the same for the keyboard, so these are left out of what
 * a screen reader tells.
 */
export function GripKnobs({ hand, grips, onPull }: GripKnobsProps) {
  const [touched, setTouched] = useState<GripName | null>(null);
  const units = useView((view) => view.units);
  const grip = grips.find(({ name }) => name === touched);
  const at = grip === undefined ? null : hand.placeOf(grip.name);
  return (
    <div className="grips" aria-hidden="true">
      {grips.map((one) => (
        <Knob key={one.name} grip={one} hand={hand} onPull={onPull} onTouch={setTouched} />
      ))}
      {grip !== undefined && at !== null && (
        <span className="grip-says" style={{ left: at.x, top: at.y }}>
          {TEXTS.grips[grip.name]} {figureText(lengthFigure(grip.mm, units))}
        </span>
      )}
    </div>
  );
}

interface Pull {
  readonly grip: Grip;
  readonly onPage: OnPage;
  readonly x: number;
  readonly y: number;
}

function Knob({
  grip,
  hand,
  onPull,
  onTouch,
}: Omit<GripKnobsProps, 'grips'> & { grip: Grip; onTouch: (name: GripName | null) => void }) {
  const [isHeld, setHeld] = useState(false);
  // The hand keeps the length, the place and the scale it began with, whatever the drawing does meanwhile.
  const pull = useRef<Pull | null>(null);
  const down = (event: PointerEvent<HTMLElement>): void => {
    const onPage = hand.placeOf(grip.name);
    if (event.button !== 0 || onPage === null) return;
    event.preventDefault();
    event.currentTarget.setPointerCapture(event.pointerId);
    pull.current = { grip, onPage, x: event.clientX, y: event.clientY };
    setHeld(true);
    beginDrag();
  };
  const move = (event: PointerEvent<HTMLElement>): void => {
    const held = pull.current;
    if (held === null) return;
    const mm = pulled(held.grip, held.onPage, event.clientX - held.x, event.clientY - held.y);
    if (mm !== grip.mm) onPull(held.grip, mm);
  };
  const up = (): void => {
    if (pull.current === null) return;
    pull.current = null;
    setHeld(false);
    onTouch(null);
    endDrag();
  };
  return (
    <span
      ref={(element) => hand.knob(grip.name, element)}
      className={isHeld ? 'grip grip-held' : 'grip'}
      data-grip={grip.name}
      onPointerEnter={() => onTouch(grip.name)}
      onPointerLeave={() => pull.current === null && onTouch(null)}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      onLostPointerCapture={up}
    >
      <svg viewBox="-12 -8 24 16" width="24" height="16" aria-hidden="true">
        <path d="M-11 0l6 -5v3h10v-3l6 5l-6 5v-3h-10v3z" />
      </svg>
    </span>
  );
}
