import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import type { Busy } from './scan-session.ts';

const T = SCAN_TEXTS.working;

/** What is being worked at, how far it is, and the way to stop it. */
export function Working({ busy, onStop }: { busy: Busy | null; onStop: () => void }) {
  return (
    <div role="status">
      {busy !== null && (
        <div className="scan-working">
          <span>
            {T.at(busy.says)}
            {busy.of > 1 && <span className="soft">{T.step(busy.done + 1, busy.of)}</span>}
          </span>
          <progress {...(busy.of > 1 ? { value: busy.done, max: busy.of } : {})} aria-label={busy.says} />
          <button type="button" onClick={onStop}>
            {T.cancel}
          </button>
        </div>
      )}
    </div>
  );
}
