import { DESK_TEXTS } from '../look/texts/desk.ts';
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
        {DESK_TEXTS.undo}
      </button>
      <button type="button" disabled={!canRedo} onClick={onRedo}>
        {DESK_TEXTS.redo}
      </button>
    </div>
  );
}
