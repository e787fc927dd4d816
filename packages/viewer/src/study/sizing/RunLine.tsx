import { useStore } from 'zustand';
import { STUDY_RUN_TEXTS } from '../../look/texts/study-run.ts';
import type { Begun, StepRun } from './step-run.ts';

const T = STUDY_RUN_TEXTS;

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
  const says = begun === null ? T.laying : T.progress(done, begun.total, unit);
  return (
    <div className="run-line">
      <progress max={begun?.total ?? 1} value={done} aria-label={says} />
      <span className="small">
        {state === 'stopped' && `${T.stopped} `}
        {says}
        {state === 'working' && note !== undefined && `, ${note}`}
      </span>
      {state === 'working' ? (
        <button type="button" onClick={run.stop}>
          {T.stop}
        </button>
      ) : (
        <button type="button" onClick={run.goOn}>
          {T.goOn}
        </button>
      )}
    </div>
  );
}
