import type {
  InputErrorDetails,
  PatternDifference,
  PatternField,
  PatternRemark,
  ResolvedValue,
} from '@barwright/geometry';
import type { BackView, CutView, FitView } from '../contract.ts';

/** The pattern's numbers, worked out on the page with every edit (well under a millisecond). */
export interface PatternView {
  readonly fields: readonly PatternField[];
  /** Resolved, in the field's unit (mm, degrees, %); 'flat' stays a word. Right bar and shared. */
  readonly values: Readonly<Record<string, ResolvedValue>>;
  readonly leftValues: Readonly<Record<string, ResolvedValue>>;
  /** As written in the document: number, shop number or expression; absent where the default stands. */
  readonly written: Readonly<Record<string, string | number>>;
  readonly leftWritten: Readonly<Record<string, string | number>>;
  /** Solid materials by place: bar, lower, tip. */
  readonly materials: Readonly<Record<string, string>>;
  readonly parentName: string | null;
  readonly differences: readonly PatternDifference[];
  readonly remarks: readonly PatternRemark[];
}

/** An edit that was refused: shown at its field, the document stays as it was. */
export interface RefusedEdit {
  /** Key of the pattern value, `setup.` and a path, or `file`. */
  readonly key: string;
  readonly text: string;
  readonly error: InputErrorDetails;
}

/** How far the opening of a scan is. */
export interface Progress {
  readonly phase: 'reading' | 'cleaning' | 'shaping' | 'seating';
  /** Of the whole way to the first fit, 0..1. */
  readonly fraction: number;
}

/** Everything derived. The last good result stays while `stale`. */
export interface ResultState {
  readonly pattern: PatternView | null;
  readonly fit: FitView | null;
  readonly back: BackView | null;
  readonly cut: CutView | null;
  /** The version that the documents on screen have. */
  readonly version: number;
  /** The worker is at it. */
  readonly computing: boolean;
  /** `fit` belongs to older inputs: dim it. */
  readonly stale: boolean;
  /** Causes, capacity and accuracy belong to these inputs. */
  readonly full: boolean;
  /** Why the latest inputs gave no result. */
  readonly error: InputErrorDetails | null;
  readonly refused: RefusedEdit | null;
  readonly saved: 'saved' | 'saving' | 'unavailable';
  /** While the back in the documents is a scan that is still being opened. */
  readonly progress: Progress | null;
  /** A short notice: what was opened, what a file warned of. */
  readonly notice: string | null;
}

export const RESULT_START: ResultState = Object.freeze({
  pattern: null,
  fit: null,
  back: null,
  cut: null,
  version: 0,
  computing: false,
  stale: false,
  full: false,
  error: null,
  refused: null,
  saved: 'saved',
  notice: null,
  progress: null,
});
