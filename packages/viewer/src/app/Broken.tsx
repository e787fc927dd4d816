import type { FallbackProps } from 'react-error-boundary';
import { TEXTS } from '../look/texts.ts';
import { saveBench } from '../share/save-bench.ts';
import { undo } from '../state/index.ts';

/** A part of the page broke. The documents live outside of it and are safe. */
export function Broken({ error, resetErrorBoundary }: FallbackProps) {
  return (
    <div className="strip strip-error" role="alert">
      <p>{TEXTS.page.stopped(error instanceof Error ? error.message : String(error))}</p>
      <div className="head-group">
        <button type="button" onClick={resetErrorBoundary}>
          {TEXTS.page.tryAgain}
        </button>
        <button
          type="button"
          onClick={() => {
            undo();
            resetErrorBoundary();
          }}
        >
          {TEXTS.page.undoLast}
        </button>
        <button type="button" onClick={() => void saveBench()}>
          {TEXTS.saving.saveWhole}
        </button>
      </div>
    </div>
  );
}
