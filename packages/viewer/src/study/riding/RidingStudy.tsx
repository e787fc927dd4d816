import { RIDING_SETS } from '@barwright/geometry';
import { useEffect, useRef } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { fileNameFor, saveJson } from '../../files/save-file.ts';
import { RIDING_TEXTS } from '../../look/texts/riding.ts';
import { STUDY_RUN_TEXTS } from '../../look/texts/study-run.ts';
import { CaseValues } from './CaseValues.tsx';
import { RidingCases } from './RidingCases.tsx';
import {
  chooseSet,
  followRiding,
  goOnRiding,
  openRiding,
  ridingToSave,
  stopRiding,
  useRiding,
} from './riding-store.ts';
import { useCaseInPicture } from './use-case-in-picture.ts';
import '../shoulder/shoulder.css';
import './riding.css';

const T = RIDING_TEXTS.bar;

/** The tree under other loads, on other ground, over another posture: case by case beside the horse standing. */
export default function RidingStudy() {
  useEffect(followRiding, []);
  useCaseInPicture();
  const error = useRiding((riding) => riding.error);
  return (
    <div className="riding">
      <SetBar />
      {error !== null && <Problem problem={error} />}
      <p className="small soft">{RIDING_TEXTS.note}</p>
      <RidingCases />
      <CaseValues />
    </div>
  );
}

function SetBar() {
  const source = useRiding((riding) => riding.source);
  const isRunning = useRiding((riding) => riding.isRunning);
  const stopped = useRiding((riding) => riding.stopped);
  const done = useRiding(({ rows }) => rows.filter(({ ridden, stale }) => ridden !== null && !stale).length);
  const of = useRiding(({ rows }) => rows.length);
  const file = useRef<HTMLInputElement>(null);
  const isOwn = !RIDING_SETS.includes(source);
  return (
    <div className="riding-bar">
      <label>
        {T.set}{' '}
        <select
          value={isOwn ? '' : source.name}
          onChange={(event) => {
            const chosen = RIDING_SETS.find(({ name }) => name === event.currentTarget.value);
            if (chosen !== undefined) chooseSet(chosen);
          }}
        >
          {isOwn && <option value="">{source.name}</option>}
          {RIDING_SETS.map(({ name }) => (
            <option key={name} value={name}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <input
        ref={file}
        className="visually-hidden"
        type="file"
        accept=".json"
        tabIndex={-1}
        aria-label={T.file}
        onChange={async (event) => {
          const input = event.currentTarget;
          const picked = input.files?.[0];
          if (picked !== undefined) openRiding(await picked.text(), picked.name);
          input.value = '';
        }}
      />
      <button type="button" onClick={() => file.current?.click()}>
        {T.open}
      </button>
      <button
        type="button"
        onClick={() => {
          const riding = ridingToSave();
          saveJson(riding, fileNameFor(riding.name, 'riding'));
        }}
      >
        {T.save}
      </button>
      {isRunning && (
        <span className="study-running small" role="status">
          {T.at(Math.min(done + 1, of), of)}
          <button type="button" onClick={stopRiding}>
            {T.cancel}
          </button>
        </span>
      )}
      {stopped && !isRunning && (
        <span className="study-running small" role="status">
          {STUDY_RUN_TEXTS.stopped}
          <button type="button" onClick={goOnRiding}>
            {STUDY_RUN_TEXTS.goOn}
          </button>
        </span>
      )}
    </div>
  );
}
