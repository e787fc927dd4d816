import { type ReactNode, useState } from 'react';

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
        Set the tree on this back
      </button>
      <button type="button" disabled={missing !== null} onClick={() => onSave(withOwner && hasOwner)}>
        Save the document
      </button>
      {hasOwner && (
        <label className="desk-owner small">
          <input type="checkbox" checked={withOwner} onChange={(event) => setWithOwner(event.currentTarget.checked)} />
          with the owner’s name in it
        </label>
      )}
      <p className="small desk-missing" role="status">
        {missing}
      </p>
    </div>
  );
}
