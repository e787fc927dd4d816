import type { InputErrorDetails } from '@barwright/geometry';
import { useId, useState } from 'react';
import { REFUSAL_TEXTS } from '../../look/texts/refusals.ts';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';

const T = SCAN_TEXTS.end;

export interface EndBarProps {
  /** What has to be said before the tree can be set. */
  readonly open: readonly string[];
  readonly canTakeAll: boolean;
  readonly isBusy: boolean;
  /** An owner was typed: leaving the name out of a saved document becomes a choice. */
  readonly hasOwner: boolean;
  readonly refused: InputErrorDetails | null;
  readonly onAll: () => void;
  readonly onSet: () => void;
  readonly onSave: (withOwner: boolean) => void;
}

/** The way on, and in words what still stands in it. */
export function EndBar({ open, canTakeAll, isBusy, hasOwner, refused, onAll, onSet, onSave }: EndBarProps) {
  const [withOwner, setWithOwner] = useState(false);
  const id = useId();
  return (
    <div className="desk-end scan-end">
      {refused !== null && (
        <p className="desk-fault small" role="alert">
          {REFUSAL_TEXTS.expected(refused.expected)}
          {refused.got !== undefined && T.found(refused.got)}
          {T.remedy(refused.remedy)}
        </p>
      )}
      <p className="small" id={id}>
        {open.length === 0 ? T.ready : T.open(open.join(', '))}
      </p>
      <div className="scan-row">
        {canTakeAll && (
          <button type="button" className="scan-go" onClick={onAll}>
            {T.all}
          </button>
        )}
        <button
          type="button"
          className={open.length === 0 ? 'scan-go' : ''}
          disabled={open.length > 0 || isBusy}
          aria-describedby={id}
          onClick={onSet}
        >
          {T.setTree}
        </button>
        <button
          type="button"
          disabled={open.length > 0 || isBusy}
          aria-describedby={id}
          onClick={() => onSave(withOwner)}
        >
          {T.save}
        </button>
        {hasOwner && (
          <label className="small">
            <input
              type="checkbox"
              checked={withOwner}
              onChange={(event) => setWithOwner(event.currentTarget.checked)}
            />{' '}
            {T.withOwner}
          </label>
        )}
      </div>
    </div>
  );
}
