import type { InputErrorDetails } from '@barwright/geometry';
import { type Remote, wrap } from 'comlink';
import type { FitView } from '../contract.ts';
import type { Documents } from '../state/documents.ts';
import { documentStore, resultStore, viewStore } from '../state/stores.ts';
import type { AnsweringService } from './compute.worker.ts';
import type { Inputs } from './inputs.ts';

/** The hand rests this long before causes, capacity and accuracy are worked out. */
const REST_MS = 250;

/** One worker and the back that it was last sent. */
class Lane {
  readonly service: Remote<AnsweringService>;
  private sentBack = -1;

  constructor() {
    this.service = wrap(new Worker(new URL('./compute.worker.ts', import.meta.url), { type: 'module' }));
  }

  /** The inputs, with the back where this worker doesn't have it yet. */
  packed(inputs: Inputs, back: Documents['back']): Inputs {
    const known = this.sentBack === inputs.backId;
    this.sentBack = inputs.backId;
    return known ? inputs : { ...inputs, back };
  }
}

/**
 * Keeps the results up with the documents. Latest wins: one round runs at a time on the quick lane, inputs that arrive
 * meanwhile replace each other, answers to older inputs are dropped. The long work runs on a lane of its own.
 */
export function startComputing(): () => void {
  const quick = new Lane();
  let slow: Lane | null = null;
  let backId = 0;
  let version = 0;
  let shownBack = '';
  let running = false;
  let slowRunning = false;
  let cutRunning = false;
  let rest: ReturnType<typeof setTimeout> | undefined;

  const inputs = (): Inputs => {
    const { pattern, setup } = documentStore.getState();
    return { version, pattern, setup, backId };
  };
  const fresh = (of: Inputs): boolean => of.version === version;
  const refuse = (of: Inputs, error: InputErrorDetails): void => {
    if (fresh(of)) resultStore.setState({ error, computing: false, stale: resultStore.getState().fit !== null });
  };

  const round = async (of: Inputs): Promise<void> => {
    const { back } = documentStore.getState();
    const legs = `${of.backId} ${of.setup.legForward}`;
    if (legs !== shownBack) {
      const drawn = await quick.service.back(quick.packed(of, back));
      if (!drawn.ok) return refuse(of, drawn.error);
      if (of.backId !== backId) return;
      shownBack = legs;
      resultStore.setState({ back: drawn.value });
    }
    const earlier = resultStore.getState().fit;
    if (earlier !== null) {
      const bars = await quick.service.bars(quick.packed(of, back));
      if (!bars.ok) return refuse(of, bars.error);
      if (of.backId !== backId) return;
      // Shown even when newer inputs wait: a drag follows the hand as fast as the worker can.
      resultStore.setState({ fit: { ...earlier, ...bars.value, detail: 'bars' } });
      if (!fresh(of)) return;
    }
    const figures = await quick.service.figures(quick.packed(of, back));
    if (!figures.ok) return refuse(of, figures.error);
    if (fresh(of)) settle(drawnOnce(figures.value, resultStore.getState().fit));
  };

  const settle = (fit: FitView): void => {
    resultStore.setState({ fit, error: null, stale: false, computing: false, full: fit.detail === 'full' });
    void cut();
    clearTimeout(rest);
    rest = setTimeout(() => void lookCloser(), REST_MS);
  };

  const run = async (): Promise<void> => {
    if (running) return;
    running = true;
    for (let done = -1; done !== version; ) {
      const of = inputs();
      done = of.version;
      try {
        await round(of);
      } catch (error) {
        refuse(of, faultDetails(error));
      }
    }
    running = false;
  };

  const lookCloser = async (): Promise<void> => {
    if (slowRunning || resultStore.getState().full) return;
    slowRunning = true;
    const of = inputs();
    try {
      slow ??= new Lane();
      const answer = await slow.service.full(slow.packed(of, documentStore.getState().back));
      if (answer.ok && fresh(of))
        resultStore.setState({ fit: drawnOnce(answer.value, resultStore.getState().fit), full: true });
    } catch (error) {
      if (fresh(of)) resultStore.setState({ error: faultDetails(error) });
    } finally {
      slowRunning = false;
    }
    if (!fresh(of)) rest = setTimeout(() => void lookCloser(), REST_MS);
  };

  const cut = async (): Promise<void> => {
    if (cutRunning || !viewStore.getState().cutOpen) return;
    cutRunning = true;
    try {
      for (let done = Number.NaN; done !== viewStore.getState().stationXMm; ) {
        done = viewStore.getState().stationXMm;
        const answer = await quick.service.cut(done);
        if (answer.ok) resultStore.setState({ cut: answer.value });
      }
    } finally {
      cutRunning = false;
    }
  };

  const onDocuments = (now: Documents, before: Documents): void => {
    if (now.pattern === before.pattern && now.back === before.back && now.setup === before.setup) return;
    if (now.back !== before.back) backId++;
    version++;
    clearTimeout(rest);
    resultStore.setState(({ fit }) => ({ version, computing: true, stale: fit !== null, full: false }));
    void run();
  };

  const stopDocuments = documentStore.subscribe(onDocuments);
  const stopView = viewStore.subscribe((now, before) => {
    if (now.stationXMm !== before.stationXMm || now.cutOpen !== before.cutOpen) void cut();
  });
  resultStore.setState({ computing: true });
  void run();
  return () => {
    stopDocuments();
    stopView();
    clearTimeout(rest);
  };
}

/** Of the same inputs the bars are the same: what is already on screen stays, so that nothing is painted twice. */
function drawnOnce(fit: FitView, shown: FitView | null): FitView {
  if (shown === null || shown.version !== fit.version) return fit;
  const { bars, profiles, tree } = shown;
  if (shown.detail === 'bars') return { ...fit, bars, profiles, tree };
  const { laidOnBars, laidOnProfiles, laidOnTree } = shown;
  return { ...fit, bars, profiles, tree, laidOnBars, laidOnProfiles, laidOnTree };
}

/** A fault of ours, said as such. */
function faultDetails(error: unknown): InputErrorDetails {
  return {
    code: 'unsupported',
    got: String(error instanceof Error ? error.message : error).slice(0, 200),
    expected: 'the calculation to finish',
    remedy: 'This is a fault in Barwright, not in your input. Your documents are safe; undo, or reload the page.',
  };
}
