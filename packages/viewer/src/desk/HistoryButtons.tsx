import { useUndoKeys } from './use-undo-keys.ts';

export interface HistoryButtonsProps {
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly onUndo: () => void;
  readonly onRedo: () => void;
}

/** Undo of a desk: its buttons and the usual keys. */
export function HistoryButtons({ canUndo, canRedo, onUndo, onRedo }: HistoryButtonsProps) {
  useUndoKeys(onUndo, onRedo);
  return (
    <div className="desk-history">
      <button type="button" disabled={!canUndo} onClick={onUndo}>
        ↶ Undo here
      </button>
      <button type="button" disabled={!canRedo} onClick={onRedo}>
        ↷ Redo here
      </button>
    </div>
  );
}
