import { createStore, useStore } from 'zustand';

/** What lies on the measuring desk: raw material that is becoming a back, or two backs side by side. */
export type DeskWork =
  | { readonly kind: 'scan'; readonly fileName: string; readonly bytes: Uint8Array }
  | {
      readonly kind: 'tracings';
      readonly fileName: string;
      /** A CSV or SVG file's bytes, or a document that has open questions. */
      readonly source: { readonly bytes: Uint8Array } | { readonly json: unknown };
    }
  | { readonly kind: 'photo'; readonly images: readonly File[] }
  | { readonly kind: 'numbers' }
  | { readonly kind: 'two-backs' };

/** Null: the bench itself is shown. What is on the bench stays there while the desk is open. */
export const deskStore = createStore<{ readonly work: DeskWork | null }>()(() => ({ work: null }));

export const openDesk = (work: DeskWork): void => deskStore.setState({ work });
export const closeDesk = (): void => deskStore.setState({ work: null });
export const useDeskWork = (): DeskWork | null => useStore(deskStore, ({ work }) => work);
