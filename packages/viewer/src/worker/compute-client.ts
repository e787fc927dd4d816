import type { InputErrorDetails } from '@barwright/geometry';
import type { FitView } from '../contract.ts';
import type { Documents } from '../state/documents.ts';
import { followFinding } from '../state/follow-finding.ts';
import { documentStore, resultStore, viewStore } from '../state/stores.ts';
import { faultDetails } from './fault.ts';
import type { Inputs } from './inputs.ts';
import { Lane } from './lane.ts';
import { Interrupted } from './worker-line.ts';

/** The hand rests this long before causes, capacity and accuracy are worked out. */
const REST_MS = 250;

/** Inputs that nobody wants any more may hold the quick lane no longer than this. */
const PATIENCE_MS = 1500;

/** `?calm` in the address: no closer look, for tests of other parts that would only wait for it. */
const IS_CALM = new URLSearchParams(globalThis.location?.search ?? '').has('calm');

let early: Lane | null = null;

const quickLane = (): Lane => new Lane((progress) => resultStore.setState({ progress }));

/** Starts the worker while the page itself is still being put together: it has as much to load. */
export function startEarly(): void {
  early ??= quickLane();
}

/**
 * Keeps the results up with the documents. Latest wins: one round runs at a time on the quick lane, inputs that arrive
 * meanwhile replace each other, answers to older inputs are dropped. The long work runs on a lane of its own.
 */
export function startComputing(): () => void {
  const quick = early ?? quickLane();
  early = null;
  let slow: Lane | null = null;
  const backIds = new WeakMap<object, number>();
  let lastBackId = 0;
  let version = 0;
  let shownBack = '';
  /** Version that the quick lane works on, or null. */
  let running: number | null = null;
  let slowRunning: number | null = null;
  let cutRunning = false;
  let rest: ReturnType<typeof setTimeout> | undefined;

  const inputs = (): Inputs => {
    const { pattern, setup, back } = documentStore.getState();
    return { version, pattern, setup, backId: backIdOf(back) };
  };
  const backIdOf = (back: Documents['back']): number => {
    const known = backIds.get(back);
    if (known !== undefined) return known;
    backIds.set(back, ++lastBackId);
    return lastBackId;
  };
  const sameBack = (of: Inputs): boolean => backIdOf(documentStore.getState().back) === of.backId;
  const fresh = (of: Inputs): boolean => of.version === version;
  const refuse = (of: Inputs, error: InputErrorDetails): void => {
    if (!fresh(of)) return;
    resultStore.setState({ error, computing: false, progress: null, stale: resultStore.getState().fit !== null });
  };

  const round = async (of: Inputs): Promise<void> => {
    const { back } = documentStore.getState();
    const legs = `${of.backId} ${of.setup.legForward}`;
    const earlier = resultStore.getState().fit;
    const drawn = legs === shownBack ? null : await quick.ask((service) => service.back(quick.packed(of, back)));
    if (drawn !== null && !drawn.ok) return refuse(of, drawn.error);
    if (!sameBack(of)) return;
    const show = (): void => {
      if (drawn === null || !sameBack(of)) return;
      shownBack = legs;
      resultStore.setState({ back: drawn.value });
    };
    // Another horse comes on with its own fit, in one drawing: bars of the horse before would hang in the air over it.
    if (earlier === null) show();
    else if (drawn === null) {
      const bars = await quick.ask((service) => service.bars(quick.packed(of, back)));
      if (!bars.ok) return refuse(of, bars.error);
      if (!sameBack(of)) return;
      // Shown even when newer inputs wait: a drag follows the hand as fast as the worker can.
      resultStore.setState({ fit: { ...earlier, ...bars.value, detail: 'bars' } });
      void cut();
      if (!fresh(of)) return;
    }
    const figures = await quick.ask((service) => service.figures(quick.packed(of, back)));
    show();
    if (!figures.ok) return refuse(of, figures.error);
    if (fresh(of)) settle(drawnOnce(figures.value, resultStore.getState().fit));
  };

  const settle = (fit: FitView): void => {
    keepChosen(fit);
    const full = fit.detail === 'full';
    resultStore.setState({ fit, error: null, stale: false, computing: false, progress: null, full });
    void cut();
    clearTimeout(rest);
    rest = setTimeout(() => void lookCloser(), REST_MS);
  };

  const run = async (): Promise<void> => {
    if (running !== null) return;
    for (let done = -1; done !== version; ) {
      const of = inputs();
      done = of.version;
      running = done;
      try {
        await round(of);
      } catch (error) {
        if (!(error instanceof Interrupted)) refuse(of, faultDetails(error));
      }
    }
    running = null;
  };

  /** Stops the quick lane if it is still at inputs that have been replaced. */
  const losePatience = (with_: number): void => {
    if (running === with_ && running !== version) quick.restart();
  };

  const lookCloser = async (): Promise<void> => {
    if (IS_CALM) return;
    if (slowRunning === version || resultStore.getState().full) return;
    slow ??= new Lane();
    if (slowRunning !== null) slow.restart();
    const lane = slow;
    const of = inputs();
    slowRunning = of.version;
    try {
      const { back } = documentStore.getState();
      const answer = await lane.ask((service) => service.full(lane.packed(of, back)));
      if (answer.ok && fresh(of)) {
        keepChosen(answer.value);
        resultStore.setState({ fit: drawnOnce(answer.value, resultStore.getState().fit), full: true });
      }
    } catch (error) {
      if (!(error instanceof Interrupted) && fresh(of)) resultStore.setState({ error: faultDetails(error) });
    } finally {
      if (slowRunning === of.version) slowRunning = null;
    }
  };

  const cut = async (): Promise<void> => {
    if (cutRunning || !viewStore.getState().cutOpen) return;
    cutRunning = true;
    try {
      for (let done = Number.NaN; done !== viewStore.getState().stationXMm; ) {
        done = viewStore.getState().stationXMm;
        const answer = await quick.ask((service) => service.cut(done));
        if (answer.ok) resultStore.setState({ cut: answer.value });
      }
    } catch (error) {
      if (!(error instanceof Interrupted)) resultStore.setState({ error: faultDetails(error) });
    } finally {
      cutRunning = false;
    }
  };

  const onDocuments = (now: Documents, before: Documents): void => {
    if (now.pattern === before.pattern && now.back === before.back && now.setup === before.setup) return;
    version++;
    clearTimeout(rest);
    resultStore.setState(({ fit }) => ({ version, computing: true, stale: fit !== null, full: false }));
    if (running !== null) setTimeout(losePatience, PATIENCE_MS, running);
    // Of a scan that is no longer on the bench nothing is of use: undo and Cancel stop it at once.
    if (now.back !== before.back && resultStore.getState().progress !== null) {
      resultStore.setState({ progress: null });
      quick.restart();
    }
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
    quick.end();
    slow?.end();
  };
}

/** Of the same inputs the bars are the same: what is already on screen stays, so that nothing is painted twice. */
function drawnOnce(fit: FitView, shown: FitView | null): FitView {
  if (shown === null || shown.version !== fit.version || shown.isPassing) return fit;
  const { bars, profiles, tree } = shown;
  if (shown.detail === 'bars') return { ...fit, bars, profiles, tree };
  const { laidOnBars, laidOnProfiles, laidOnTree } = shown;
  return { ...fit, bars, profiles, tree, laidOnBars, laidOnProfiles, laidOnTree };
}

/** The finding that was touched stays the one that is marked, though the list around it changes. */
function keepChosen(fit: FitView): void {
  const before = resultStore.getState().fit?.result.findings ?? [];
  const { selectedFinding } = viewStore.getState();
  if (selectedFinding === null) return;
  viewStore.setState({ selectedFinding: followFinding(selectedFinding, before, fit.result.findings) });
}
