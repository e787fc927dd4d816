import { useEffect } from 'react';
import { figureText, lengthFigure, type Units } from '../../look/format.ts';
import { SHOULDER_TEXTS } from '../../look/texts/shoulder.ts';
import type { Label } from '../../scene/Labels.tsx';
import { type Shown, show } from '../../scene/shown-store.ts';
import { lookFrom, setView, useView, viewStore } from '../../state/index.ts';
import type { MovedBack } from './drawn-seat.ts';
import { backAt, type DoneStride, useStride } from './stride-store.ts';

const T = SHOULDER_TEXTS.picture;

/** Puts the phase on show in the picture, from the side; the bench's own seating and view come back with its close. */
export function useStrideInPicture(): void {
  const shown = useStride((stride) => stride.shown);
  const index = useStride((stride) => stride.index);
  const stale = useStride((stride) => stride.stale);
  const units = useView((view) => view.units);
  useEffect(() => show(shown === null ? null : phaseShown(shown, index, stale, units)), [shown, index, stale, units]);
  useEffect(() => () => show(null), []);
  useSideView();
}

function useSideView(): void {
  useEffect(() => {
    const before = viewStore.getState();
    setView({ isLaidOn: false });
    lookFrom('left');
    return () => {
      const now = viewStore.getState();
      // A view that somebody chose meanwhile stays.
      if (!now.isLaidOn) setView({ isLaidOn: before.isLaidOn });
      if (now.from === 'left') lookFrom(before.from);
    };
  }, []);
}

function phaseShown({ begun, frames }: DoneStride, index: number, stale: boolean, units: Units): Shown | null {
  const frame = frames[index];
  const moved = backAt(frames, index);
  if (frame?.drawn == null || moved === null) return null;
  const { bladeLeftMm, bladeRightMm } = frame.phase;
  const far = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  const words = T.at(index + 1, frames.length, far(bladeLeftMm), far(bladeRightMm));
  return {
    ...frame.drawn,
    back: begun.back,
    moved,
    labels: bladeLabels(moved),
    words: stale ? `${T.older} ${words}` : words,
  };
}

/** The blades by name at their rear edges, and the last rib. */
export function bladeLabels({ landmarks }: Pick<MovedBack, 'landmarks'>): Label[] {
  const { bladeEdgeLeft, bladeEdgeRight, lastRib } = landmarks;
  return [
    { id: 'blade-left', text: T.bladeLeft, at: bladeEdgeLeft },
    { id: 'blade-right', text: T.bladeRight, at: bladeEdgeRight },
    { id: 'rib', text: T.rib, at: lastRib },
  ];
}
