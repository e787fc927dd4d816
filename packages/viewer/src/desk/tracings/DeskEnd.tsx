import { type ReactNode, useState } from 'react';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';

const T = TRACINGS_TEXTS.end;

interface DeskEndProps {
  /** What still stands in the way, in words; null when the back can be set on the bench. */
  readonly missing: string | null;
  readonly owner: string;
  readonly onSet: () => void;
  readonly onSave: (withOwner: boolean) => void;
  readonly children?: ReactNode;
}

/** The two ways out of a desk: onto the bench, and into a file. */
export function DeskEnd({ missing, owner, onSet, onSave, children }: DeskEndProps) {
  const [withOwner, setWithOwner] = useState(false);
  const hasOwner = owner.trim() !== '';
  return (
    <div className="desk-end">
      {children}
      <button type="button" disabled={missing !== null} onClick={onSet}>
        {T.setTree}
      </button>
      <button type="button" disabled={missing !== null} onClick={() => onSave(withOwner && hasOwner)}>
        {T.save}
      </button>
      {hasOwner && (
        <label className="desk-owner small">
          <input type="checkbox" checked={withOwner} onChange={(event) => setWithOwner(event.currentTarget.checked)} />
          {T.withOwner}
        </label>
      )}
      <p className="small desk-missing" role="status">
        {missing}
      </p>
    </div>
  );
}
