import type { FallbackProps } from 'react-error-boundary';
import { fileNameFor, saveJson } from '../files/save-file.ts';
import { documentStore, undo } from '../state/index.ts';

/** A part of the page broke. The documents live outside of it and are safe. */
export function Broken({ error, resetErrorBoundary }: FallbackProps) {
  const { pattern } = documentStore.getState();
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
        <button type="button" onClick={() => saveJson(pattern, fileNameFor(pattern.name, 'pattern'))}>
          Save pattern
        </button>
      </div>
    </div>
  );
}
