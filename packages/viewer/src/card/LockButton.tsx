import { TEXTS } from '../look/texts.ts';
import { setLock, useIsLocked } from '../state/locks.ts';

const T = TEXTS.locks;

/** A padlock beside a value: locked, it is neither typed nor dragged. */
export function LockButton({ of, label }: { of: string; label: string }) {
  const isLocked = useIsLocked(of);
  return (
    <button
      type="button"
      className="lock-button"
      aria-pressed={isLocked}
      aria-label={T.lock(label)}
      title={isLocked ? T.unlock(label) : T.lock(label)}
      onClick={() => setLock(of, !isLocked)}
    >
      <svg width="11" height="12" viewBox="0 0 11 12" aria-hidden="true" fill="none" stroke="currentColor">
        <path d={isLocked ? 'M3 5.5V3.4a2.5 2.5 0 0 1 5 0v2.1' : 'M3 5.5V3a2.5 2.5 0 0 1 5 -.6'} strokeWidth="1.3" />
        <rect x="1.2" y="5.5" width="8.6" height="5.8" rx="1" fill="currentColor" stroke="none" />
      </svg>
    </button>
  );
}
