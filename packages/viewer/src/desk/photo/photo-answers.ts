import type { InputErrorDetails, TracingsBackDocument } from '@barwright/geometry';
import { createStore, useStore } from 'zustand';
import type { Line, Photo, Px } from './photo-work.ts';

export type DocumentCurve = TracingsBackDocument['curves'][number];

/** What the photo's own marks came to: where paper lies in it, and how well that is known. */
export interface PaperRead {
  /** Worst distance between the corners and where they are put by the plane; null where four leave nothing to check. */
  readonly residualMm: number | null;
  readonly bendMm: number | null;
  /** The paper's own level line in the photo. */
  readonly levelPx: readonly [Px, Px] | null;
  readonly warnings: readonly string[];
}

export interface LineRead {
  /** Along the pen line from point to point, pixels of the photo; one for each photo that shows a stretch of it. */
  readonly paths: readonly (readonly Px[])[];
  /** The curve as it will stand in the document, mm: to the right (or towards the tail) and up. */
  readonly mm: readonly Px[];
  /** Height of its level line, mm; null where there is none. */
  readonly levelAtMm: number | null;
  readonly lengthMm: number;
  readonly uncertaintyMm: number;
  readonly warnings: readonly string[];
  readonly curve: DocumentCurve;
}

/** An answer and what was asked: it is stale as soon as that differs. */
export interface Answer<Asked, T> {
  readonly asked: Asked;
  readonly value: T | null;
  readonly refused: InputErrorDetails | null;
}

export interface AskedLine {
  readonly photo: Photo;
  readonly line: Line;
  /** Further stretches of it in other photos. */
  readonly parts: readonly { readonly photo: Photo; readonly line: Line }[];
}

/** Whether two states of a photo have the same plane. */
export const samePlane = (a: Photo, b: Photo): boolean =>
  a.way === b.way &&
  (a.way !== 'sheet' || (a.found === b.found && a.byHand === b.byHand && a.sheet === b.sheet)) &&
  (a.way !== 'rectangle' || (a.corners === b.corners && a.rectangle === b.rectangle)) &&
  (a.way !== 'length' || a.knownLength === b.knownLength);

export const isSameAsked = (a: AskedLine, b: AskedLine): boolean =>
  a.line === b.line &&
  samePlane(a.photo, b.photo) &&
  a.parts.length === b.parts.length &&
  a.parts.every((part, i) => part.line === b.parts[i]!.line && samePlane(part.photo, b.parts[i]!.photo));

export interface LineAnswer extends Answer<AskedLine, LineRead> {
  /** Of the stretch in the line's own photo. */
  readonly path: readonly Px[];
}

export interface PhotoAnswers {
  readonly papers: Readonly<Record<number, Answer<Photo, PaperRead>>>;
  readonly lines: Readonly<Record<number, LineAnswer>>;
  /** Photos whose marks are being looked for. */
  readonly searching: readonly number[];
  /** Why nothing could be read from the marks of a photo. */
  readonly reasons: Readonly<Record<number, string | null>>;
}

export const answerStore = createStore<PhotoAnswers>()(() => ({ papers: {}, lines: {}, searching: [], reasons: {} }));

export const usePaper = (photoId: number): Answer<Photo, PaperRead> | undefined =>
  useStore(answerStore, ({ papers }) => papers[photoId]);
export const useLineRead = (lineId: number): LineAnswer | undefined =>
  useStore(answerStore, ({ lines }) => lines[lineId]);
export const useLineReads = (): PhotoAnswers['lines'] => useStore(answerStore, ({ lines }) => lines);
export const useSearching = (photoId: number): boolean =>
  useStore(answerStore, ({ searching }) => searching.includes(photoId));
export const useReason = (photoId: number): string | null =>
  useStore(answerStore, ({ reasons }) => reasons[photoId] ?? null);
