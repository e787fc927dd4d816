import type { ScanProposal } from '@barwright/geometry';
import { useEffect, useMemo, useRef, useState } from 'react';
import type { ViewFrom } from '../../state/view-state.ts';
import { type HorseFrame, intoFile, intoHorse } from './horse-frame.ts';
import { MARK_NAMES } from './marks.ts';
import type { Pin } from './ScanLook.tsx';
import { type Choices, type MarkName, withMark } from './scan-choices.ts';
import type { ScanSession } from './scan-session.ts';
import type { Point } from './scan-way.ts';
import type { ChoicesHeld } from './use-choices.ts';

/** The landmarks in hand: which one the next touch is for, where a dragged pin is, and from where one looks. */
export function useMarks(
  session: ScanSession,
  choices: Choices,
  proposal: ScanProposal | null,
  { change, correct: tellExactly }: Pick<ChoicesHeld, 'change' | 'correct'>,
) {
  const [armed, setArmed] = useState<MarkName | null>(null);
  const [hasMissed, setMissed] = useState(false);
  const [goesOn, setGoesOn] = useState(false);
  const [dragged, setDragged] = useState<{ name: MarkName; at: Point } | null>(null);
  const [view, setView] = useState<{ from: ViewFrom; asked: number }>({ from: 'three-quarter', asked: 0 });
  /** Choices as they will be once what was changed since the last drawing is drawn. */
  const latest = useRef(choices.marks);
  latest.current = choices.marks;
  const look = (from: ViewFrom): void => setView(({ asked }) => ({ from, asked: asked + 1 }));

  const arm = (name: MarkName | null, on: boolean): void => {
    setArmed(name);
    setMissed(false);
    setGoesOn(on);
    if (name !== null) look(VIEW_FOR[name]);
  };
  /** Where it was touched on the drawing at once, and on the whole surface as soon as that has answered. */
  const set = (name: MarkName, at: Point | null): void => {
    put(name, at);
    if (at !== null) correct(name, at);
  };
  const put = (name: MarkName, at: Point | null, kind: string | null = null): void => {
    latest.current = withMark(latest.current, name, at);
    change((now) => ({ marks: withMark(now.marks, name, at) }), kind);
  };
  const correct = (name: MarkName, at: Point): void => {
    void session
      .nearest(at)
      .then((exact) =>
        tellExactly((now) => (now.marks[name] === at ? { marks: withMark(now.marks, name, exact) } : null)),
      );
  };
  const touch = (at: Point | null): void => {
    if (armed === null) return;
    setMissed(at === null);
    if (at === null) return;
    set(armed, at);
    const after = MARK_NAMES.slice(MARK_NAMES.indexOf(armed) + 1).find((name) => choices.marks[name] === undefined);
    arm(goesOn ? (after ?? null) : null, goesOn);
  };
  const move = (name: MarkName, at: Point, isDone: boolean): void => {
    setDragged(isDone ? null : { name, at });
    if (isDone) set(name, at);
  };
  const nudge = (name: MarkName, tailMm: number, rightMm: number, frame: HorseFrame, centre: Point): void => {
    const at = latest.current[name] ?? proposal?.landmarks[name].value ?? null;
    if (at === null) return;
    const [x, y, z] = intoHorse(frame, centre, at);
    const moved = intoFile(frame, centre, [x + tailMm, y + rightMm, z]);
    put(name, moved, `nudge ${name}`);
    correct(name, moved);
  };

  useEffect(() => {
    if (armed === null) return;
    const pressed = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') setArmed(null);
    };
    window.addEventListener('keydown', pressed);
    return () => window.removeEventListener('keydown', pressed);
  }, [armed]);

  const pins = useMemo<readonly Pin[]>(
    () =>
      MARK_NAMES.flatMap((name) => {
        const touched = choices.marks[name];
        const at = dragged?.name === name ? dragged.at : (touched ?? proposal?.landmarks[name].value ?? null);
        return at === null ? [] : [{ name, at, isTouched: touched !== undefined || dragged?.name === name }];
      }),
    [choices.marks, proposal, dragged],
  );
  return { armed, hasMissed, arm, set, touch, move, nudge, pins, view, look };
}

/** Where each landmark is seen best. */
const VIEW_FOR: Readonly<Record<MarkName, ViewFrom>> = {
  bladeEdgeLeft: 'left',
  bladeEdgeRight: 'right',
  withersTop: 'three-quarter',
  lowPoint: 'three-quarter',
  lastRib: 'three-quarter',
};
