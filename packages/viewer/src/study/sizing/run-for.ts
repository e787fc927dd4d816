import type { Step } from './step-run.ts';

/** Long enough that asking costs nothing beside it, short enough to stop at once, ms. */
const SLICE_MS = 120;

/** Runs a study that yields how many it has done for a moment; its answer is the one part, at the end. */
export function runFor<Part>(steps: Generator<number, Part>): Step<Part> {
  const until = performance.now() + SLICE_MS;
  for (;;) {
    const next = steps.next();
    if (next.done === true) return { done: 0, isEnd: true, parts: [next.value] };
    if (performance.now() >= until) return { done: next.value, isEnd: false, parts: [] };
  }
}
