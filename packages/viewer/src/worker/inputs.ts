import type { GlbDecoders, PatternDocument, Setup } from '@barwright/geometry';
import type { BackView, CutView, FitView } from '../contract.ts';
import type { OpenedBack } from '../state/documents.ts';

/** Backs that a worker keeps built: undo and a look at another horse come back at once. */
export const HELD_BACKS = 3;

/** What a computation starts from. The back goes over only when it changed. */
export interface Inputs {
  /** Counts every change of the documents: equal versions are equal documents. */
  readonly version: number;
  readonly pattern: PatternDocument;
  readonly setup: Setup;
  /** The same for the same opened back, so that undo finds it built. */
  readonly backId: number;
  readonly back?: OpenedBack;
  /** What a packed scan of the back is read with; put in by the worker itself. */
  readonly decoders?: GlbDecoders;
}

/** First answer of a drag: all that is drawn from the loaded seating alone. */
export type BarsView = Pick<
  FitView,
  'version' | 'isPassing' | 'bars' | 'profiles' | 'tree' | 'layersMm' | 'loadAtXMm' | 'zones'
>;

/** Everything the page asks of the worker. Refused inputs throw InputError. */
export interface ComputeService {
  bars(inputs: Inputs): BarsView;
  figures(inputs: Inputs): FitView;
  full(inputs: Inputs): FitView;
  /** Of the back in use, at its legs' standing. */
  back(inputs: Inputs): BackView;
  /** Through the latest seating. */
  cut(xMm: number): CutView | null;
}
