import { createStore, useStore } from 'zustand';
import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { viewStore } from '../../state/index.ts';
import { decodePhoto, PhotoRefused } from './decode-photo.ts';
import { Undoable } from './history.ts';
import {
  changeLine,
  changePhoto,
  type Line,
  NOTHING_YET,
  type Photo,
  type PhotoWork,
  turnTo,
  withLine,
  withoutLine,
  withoutPhoto,
  withPhoto,
} from './photo-work.ts';
import { shelve } from './pixel-shelf.ts';

/** Outlives the desk's own parts: a fault, or a look at the bench, loses nothing. */
export const photoDesk = new Undoable<PhotoWork>(NOTHING_YET);

export interface DeskTalk {
  /** Why files could not be used, one sentence each. */
  readonly refused: readonly string[];
  readonly isReading: boolean;
}

export const talkStore = createStore<DeskTalk>()(() => ({ refused: [], isReading: false }));

let lastId = 0;
const freshId = (): number => ++lastId;

const unitNow = (): Line['unit'] => viewStore.getState().units.length;

const taken = new WeakSet<File>();

/** Reads photos one after another; what can't be read is said and the others are kept. Each file object counts once. */
export async function addPhotos(files: readonly File[]): Promise<void> {
  const fresh = files.filter((file) => !taken.has(file));
  for (const file of fresh) taken.add(file);
  if (fresh.length === 0) return;
  talkStore.setState({ refused: [], isReading: true });
  let isFirst = true;
  for (const file of fresh) {
    try {
      const { bitmap, ...full } = await decodePhoto(file);
      const photo = { name: file.name, widthPx: bitmap.width, heightPx: bitmap.height, ...full };
      const ids = { photo: freshId(), line: freshId() };
      shelve(ids.photo, bitmap);
      photoDesk.change((work) => withPhoto(work, photo, ids, unitNow()));
      // The others of a handful come in behind what is being worked on.
      if (isFirst) lookAt(ids.photo);
      isFirst = false;
    } catch (error) {
      const why = error instanceof PhotoRefused ? error.message : PHOTO_TEXTS.unread.other(file.name, String(error));
      talkStore.setState(({ refused }) => ({ refused: [...refused, why] }));
    }
  }
  talkStore.setState({ isReading: false });
}

export const editPhoto = (id: number, edit: (photo: Photo) => Photo, step?: string): void =>
  photoDesk.change((work) => changePhoto(work, id, edit), step);

export const editLine = (id: number, edit: (line: Line) => Line, step?: string): void =>
  photoDesk.change((work) => changeLine(work, id, edit), step);

export const addLine = (): void => photoDesk.change((work) => withLine(work, freshId(), unitNow()));
export const removeLine = (id: number): void => photoDesk.change((work) => withoutLine(work, id, freshId(), unitNow()));
export const removePhoto = (id: number): void => photoDesk.change((work) => withoutPhoto(work, id));

/** Looking at another photo or line is not a change of the work. */
export const lookAt = (photoId: number, lineId?: number): void =>
  photoDesk.amend((work) => turnTo(work, photoId, lineId));

/** Takes everything off the desk; undo brings it back while the desk is open. */
export const startOver = (): void => photoDesk.change(() => NOTHING_YET);

export const usePhotoWork = (): PhotoWork => useStore(photoDesk.store, ({ now }) => now);
export const useCanUndo = (): boolean => useStore(photoDesk.store, ({ past }) => past.length > 0);
export const useCanRedo = (): boolean => useStore(photoDesk.store, ({ future }) => future.length > 0);
export const useTalk = (): DeskTalk => useStore(talkStore);
