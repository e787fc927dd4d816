/** What long work on a scan is at. */
export type WorkPhase = 'cleaning' | 'shaping';

/** `share` of the phase is done, 0..1. */
export type PhaseListener = (phase: WorkPhase, share: number) => void;

let listener: PhaseListener | null = null;

/**
 * Runs `work` while `told` hears how far it is; results never depend on it. The work is deep down and on one thread, so one listener at
 * a time is enough: the innermost hears, the one before hears again afterwards.
 */
export function hearingPhases<T>(told: PhaseListener, work: () => T): T {
  const before = listener;
  listener = told;
  try {
    return work();
  } finally {
    listener = before;
  }
}

/** For the work itself: cheap, and nothing happens when nobody listens. */
export function tellPhase(phase: WorkPhase, share: number): void {
  listener?.(phase, share);
}
