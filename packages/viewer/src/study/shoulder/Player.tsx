import { useEffect, useRef, useState } from 'react';
import { figureText, lengthFigure } from '../../look/format.ts';
import { SHOULDER_TEXTS } from '../../look/texts/shoulder.ts';
import { useView } from '../../state/index.ts';
import { goTo, play, stepBy, strideStore, useStride } from './stride-store.ts';

const T = SHOULDER_TEXTS.player;

/** One stride is shown over so long, slower than any horse, ms. */
const STRIDE_LASTS_MS = 3600;

/** Play, pause, step and the place in the stride; where both blades are, in words. */
export function Player() {
  const shown = useStride((stride) => stride.shown);
  const index = useStride((stride) => stride.index);
  const playing = useStride((stride) => stride.playing);
  const isCalm = useCalm();
  usePlaying(playing && !isCalm);
  const slider = useRef<HTMLInputElement>(null);
  useKeys(isCalm);
  const hasStride = shown !== null;
  useEffect(() => {
    // Straight to the keys, but not out of a field that somebody went to meanwhile.
    const { activeElement } = document;
    const isFree = activeElement === document.body || activeElement?.matches('.study-bar button') === true;
    if (hasStride && isFree) slider.current?.focus({ preventScroll: true });
  }, [hasStride]);
  const count = shown?.frames.length ?? 36;
  const words = useBladeWords(index);
  return (
    <div className="player">
      <button type="button" disabled={!hasStride || isCalm} onClick={() => play(!playing)}>
        {playing && !isCalm ? T.pause : T.play}
      </button>
      <button type="button" disabled={!hasStride} onClick={() => stepBy(-1)}>
        {T.back}
      </button>
      <button type="button" disabled={!hasStride} onClick={() => stepBy(1)}>
        {T.step}
      </button>
      <input
        ref={slider}
        type="range"
        min={0}
        max={count - 1}
        step={1}
        value={index}
        disabled={!hasStride}
        aria-label={T.phase}
        aria-valuetext={words}
        onChange={(event) => {
          play(false);
          goTo(event.currentTarget.valueAsNumber);
        }}
      />
      <p className="player-words">{words}</p>
      {isCalm && <p className="small soft">{T.calm}</p>}
    </div>
  );
}

/** `phase 6 of 36: left blade 11 mm back, right blade 44 mm back`. */
function useBladeWords(index: number): string {
  const shown = useStride((stride) => stride.shown);
  const units = useView((view) => view.units);
  const frame = shown?.frames[index];
  if (shown === null || frame === undefined) return T.none;
  const far = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  const { bladeLeftMm, bladeRightMm } = frame.phase;
  return T.at(index + 1, shown.frames.length, far(bladeLeftMm), far(bladeRightMm));
}

/** Carries the phase on as time goes; frames that the screen can't follow are left out, the stride keeps its time. */
function usePlaying(isOn: boolean): void {
  useEffect(() => {
    if (!isOn) return;
    const { index, shown } = strideStore.getState();
    const count = shown?.frames.length ?? 1;
    const begin = performance.now() - (index / count) * STRIDE_LASTS_MS;
    let frame = requestAnimationFrame(function tick(now) {
      const frames = strideStore.getState().shown?.frames.length ?? 1;
      const next = Math.floor((((now - begin) / STRIDE_LASTS_MS) % 1) * frames);
      if (next >= 0 && next !== strideStore.getState().index) goTo(next);
      frame = requestAnimationFrame(tick);
    });
    return () => cancelAnimationFrame(frame);
  }, [isOn]);
}

/** Space plays and pauses, arrows step: from anywhere but where these keys already mean something. */
function useKeys(isCalm: boolean): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const target = event.target as HTMLElement;
      const isPhase = target.matches('.player input[type="range"]');
      const isFree = target === document.body || target.matches('.study, .study *');
      const hasOwnKeys = target.matches('input, select, textarea, button, summary, a, [role="slider"]');
      if (!isPhase && (!isFree || (hasOwnKeys && event.key === ' ') || target.matches('input, select, textarea')))
        return;
      if (event.key === ' ') {
        event.preventDefault();
        if (!isCalm && strideStore.getState().shown !== null) play(!strideStore.getState().playing);
      } else if (event.key === 'ArrowRight' || event.key === 'ArrowLeft') {
        event.preventDefault();
        stepBy(event.key === 'ArrowRight' ? 1 : -1);
      }
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [isCalm]);
}

const CALM = '(prefers-reduced-motion: reduce)';

/** Whether the device asks for little motion, followed as it changes. */
function useCalm(): boolean {
  const [isCalm, setCalm] = useState(() => window.matchMedia(CALM).matches);
  useEffect(() => {
    const query = window.matchMedia(CALM);
    const follow = (): void => setCalm(query.matches);
    query.addEventListener('change', follow);
    return () => query.removeEventListener('change', follow);
  }, []);
  return isCalm;
}
