import type { InputErrorDetails, PatternDocument, SectionsBackDocument, Setup } from '@barwright/geometry';

/** A back as it was opened: its JSON, and the scan file it names, if any. The worker reads it. */
export interface OpenedBack {
  readonly name: string;
  readonly json: SectionsBackDocument | Readonly<Record<string, unknown>>;
  readonly mesh: { readonly fileName: string; readonly bytes: Uint8Array } | null;
}

/** One step of a lesson: what it says, and what it sets up on the bench. */
export interface LessonStep {
  readonly title?: string;
  /** One sentence. */
  readonly text: string;
  /** Names of demo documents, or whole documents. */
  readonly pattern?: string | PatternDocument;
  readonly back?: string | OpenedBack['json'];
  /** Values of the pattern to change after it is opened. */
  readonly set?: Readonly<Record<string, string | number>>;
  /** Values of the setup to change: `load.riderKg`, `setPositionMm`... */
  readonly setup?: Readonly<Record<string, string | number>>;
  readonly view?: {
    readonly colour?: 'clearance' | 'pressure';
    readonly stationXMm?: number;
    readonly from?: 'left' | 'right' | 'below' | 'above' | 'three-quarter';
  };
}

export interface LessonDocument {
  readonly schema: 'barwright/lesson/1';
  readonly name: string;
  readonly notes?: string;
  readonly steps: readonly LessonStep[];
}

/** All that is kept, saved and undone. Nothing here is derived. */
export interface Documents {
  readonly pattern: PatternDocument;
  readonly back: OpenedBack;
  readonly setup: Setup;
  readonly lesson: { readonly document: LessonDocument; readonly step: number } | null;
}

/** What an edit came to. On refusal the documents stay as they were. */
export type EditOutcome = { readonly ok: true } | { readonly ok: false; readonly error: InputErrorDetails };
