import type {
  InputErrorDetails,
  LessonDocument,
  PatternDocument,
  SectionsBackDocument,
  Setup,
} from '@barwright/geometry';

/** A back as it was opened: its JSON, and the scan file it names, if any. The worker reads it. */
export interface OpenedBack {
  readonly name: string;
  readonly json: SectionsBackDocument | Readonly<Record<string, unknown>>;
  readonly mesh: { readonly fileName: string; readonly bytes: Uint8Array } | null;
}

/** A lesson with the documents that its steps name, and where one is in it. */
export interface OpenedLesson {
  readonly document: LessonDocument;
  readonly patterns: Readonly<Record<string, unknown>>;
  readonly backs: Readonly<Record<string, OpenedBack>>;
  readonly step: number;
}

/** All that is kept, saved and undone. Nothing here is derived. */
export interface Documents {
  readonly pattern: PatternDocument;
  readonly back: OpenedBack;
  readonly setup: Setup;
  readonly lesson: OpenedLesson | null;
}

/** What an edit came to. On refusal the documents stay as they were. */
export type EditOutcome = { readonly ok: true } | { readonly ok: false; readonly error: InputErrorDetails };
