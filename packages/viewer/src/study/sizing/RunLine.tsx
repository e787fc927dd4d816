import { useStore } from 'zustand';
import type { Begun, StepRun } from './step-run.ts';

interface RunLineProps<Start extends Begun, Part> {
  readonly run: StepRun<Start, Part>;
  /** What is counted. */
  readonly unit: string;
  readonly note?: string;
}

/** How far a run is, with the way to stop it and to go on. Nothing when it is done. */
export function RunLine<Start extends Begun, Part>({ run, unit, note }: RunLineProps<Start, Part>) {
  const { state, done, begun } = useStore(run.store);
  if (state !== 'working' && state !== 'stopped') return null;
  const says = begun === null ? 'Laying it out' : `${done} of ${begun.total} ${unit}`;
  return (
    <div className="run-line">
      <progress max={begun?.total ?? 1} value={done} aria-label={says} />
      <span className="small">
        {state === 'stopped' && 'Stopped. '}
        {says}
        {state === 'working' && note !== undefined && `, ${note}`}
      </span>
      {state === 'working' ? (
        <button type="button" onClick={run.stop}>
          Stop
        </button>
      ) : (
        <button type="button" onClick={run.goOn}>
          Go on
        </button>
      )}
    </div>
  );
}
