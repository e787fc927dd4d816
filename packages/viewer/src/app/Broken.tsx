import type { FallbackProps } from 'react-error-boundary';
import { TEXTS } from '../look/texts.ts';
import { saveBench } from '../share/save-bench.ts';
import { undo } from '../state/index.ts';

/** A part of the page broke. The documents live outside of it and are safe. */
export function Broken({ error, resetErrorBoundary }: FallbackProps) {
  return (
    <div className="strip strip-error" role="alert">
      <p>
        A part of the page stopped: {error instanceof Error ? error.message : String(error)}. Your documents are kept;
        nothing is lost.
      </p>
      <div className="head-group">
        <button type="button" onClick={resetErrorBoundary}>
          Try again
        </button>
        <button
          type="button"
          onClick={() => {
            undo();
            resetErrorBoundary();
          }}
        >
          Undo the last change
        </button>
        <button type="button" onClick={() => void saveBench()}>
          {TEXTS.saving.saveWhole}
        </button>
      </div>
    </div>
  );
}
