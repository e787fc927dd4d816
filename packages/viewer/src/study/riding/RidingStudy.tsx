import { type Finding, type FitResult, RIDING_SETS } from '@barwright/geometry';
import { useEffect, useRef } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { fileNameFor, saveJson } from '../../files/save-file.ts';
import { angleFigure, figureText, forceFigure, pressureFigure, shareFigure, type Units } from '../../look/format.ts';
import { useView } from '../../state/index.ts';
import { CaseValues } from './CaseValues.tsx';
import {
  choose,
  chooseSet,
  followRiding,
  goOnRiding,
  openRiding,
  type RidingRow,
  ridingToSave,
  stopRiding,
  useRiding,
} from './riding-store.ts';
import { useCaseInPicture } from './use-case-in-picture.ts';
import '../shoulder/shoulder.css';
import './riding.css';

/** The tree under other loads, on other ground, over another posture: case by case beside the horse standing. */
export default function RidingStudy() {
  useEffect(followRiding, []);
  useCaseInPicture();
  const error = useRiding((riding) => riding.error);
  return (
    <div className="riding">
      <SetBar />
      {error !== null && <Problem problem={error} />}
      <p className="small soft">
        What-ifs: every factor, slope, lean and posture below is assumed unless its source says otherwise, and the tree
        settles as if it stood still under them. Small figures: difference from standing square. Touch a case to see it
        in the picture.
      </p>
      <Cases />
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
        Set{' '}
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
        aria-label="A riding document to open"
        onChange={async (event) => {
          const input = event.currentTarget;
          const picked = input.files?.[0];
          if (picked !== undefined) openRiding(await picked.text(), picked.name);
          input.value = '';
        }}
      />
      <button type="button" onClick={() => file.current?.click()}>
        Open a set
      </button>
      <button
        type="button"
        onClick={() => {
          const riding = ridingToSave();
          saveJson(riding, fileNameFor(riding.name, 'riding'));
        }}
      >
        Save set
      </button>
      {isRunning && (
        <span className="study-running small" role="status">
          case {Math.min(done + 1, of)} of {of}
          <button type="button" onClick={stopRiding}>
            Cancel
          </button>
        </span>
      )}
      {stopped && !isRunning && (
        <span className="study-running small" role="status">
          Stopped.
          <button type="button" onClick={goOnRiding}>
            Go on
          </button>
        </span>
      )}
    </div>
  );
}

interface Column {
  readonly name: string;
  /** In the unit it is shown in, so that differences of what is on screen agree with it. */
  readonly of: (result: FitResult) => number;
  readonly say: (value: number, units: Units) => string;
}

const kPa = (value: number, units: Units): string => figureText(pressureFigure(value, units));
const degrees = (value: number): string => figureText(angleFigure(value));
const share = (value: number): string => figureText(shareFigure(value));
const newtons = (value: number, units: Units): string => figureText(forceFigure(value, units));

const COLUMNS: readonly Column[] = [
  { name: 'Mean', of: ({ contact }) => contact.meanPressureKPa, say: kPa },
  { name: '95th', of: ({ contact }) => contact.p95PressureKPa, say: kPa },
  { name: 'Peak', of: ({ contact }) => contact.peakPressureKPa, say: kPa },
  { name: 'Pitch, + front up', of: ({ pose }) => pose.pitchDeg, say: degrees },
  { name: 'Roll, + right up', of: ({ pose }) => pose.rollDeg, say: degrees },
  { name: 'Front third', of: ({ contact }) => contact.shareFront, say: share },
  { name: 'Rear third', of: ({ contact }) => contact.shareRear, say: share },
  { name: 'Left bar', of: ({ contact }) => contact.shareLeft, say: share },
  { name: 'Held fore, − / aft, +', of: ({ reactions }) => reactions.xN, say: newtons },
  { name: 'Held sideways, + right', of: ({ reactions }) => reactions.yN, say: newtons },
];

function Cases() {
  const rows = useRiding((riding) => riding.rows);
  const standing = rows[0]!.ridden?.result ?? null;
  return (
    <div className="study-table-holder">
      <table className="study-table">
        <caption className="visually-hidden">Cases of riding beside the horse standing</caption>
        <thead>
          <tr>
            <th scope="col">Case</th>
            {COLUMNS.map(({ name }) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
            <th scope="col">Findings</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, at) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a case is known by its place; two may have the same name
            <CaseRow key={at} row={row} at={at} standing={at === 0 ? null : standing} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function CaseRow({ row, at, standing }: { row: RidingRow; at: number; standing: FitResult | null }) {
  const units = useView((view) => view.units);
  const chosen = useRiding((riding) => riding.chosen);
  const result = row.ridden?.result ?? null;
  return (
    <tr className={row.stale && result !== null ? 'stale' : ''} aria-busy={row.stale}>
      <th scope="row">
        <button type="button" className="plain" aria-pressed={chosen === at} onClick={() => choose(at)}>
          {row.riding.name}
        </button>
      </th>
      {row.error !== null ? (
        <td colSpan={COLUMNS.length + 1}>
          <Problem problem={row.error} />
        </td>
      ) : result === null ? (
        <td colSpan={COLUMNS.length + 1} className="soft">
          waiting…
        </td>
      ) : (
        <>
          {COLUMNS.map(({ name, of, say }) => (
            <td key={name}>
              {say(of(result), units)}
              {standing !== null && (
                <small className="beside">{difference(of(result) - of(standing), units, say)}</small>
              )}
            </td>
          ))}
          <td className="riding-findings">{findingNames(result)}</td>
        </>
      )}
    </tr>
  );
}

function difference(by: number, units: Units, say: Column['say']): string {
  const text = say(by, units);
  return by > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/** Each kind once, by its plain name; what can't be told is said too. */
function findingNames({ status, findings }: FitResult): string {
  const names = [...new Set(findings.map(({ code }) => nameOf(code)))];
  const all = status === 'settled' ? names : [`not settled: ${status}`, ...names];
  return all.length === 0 ? 'none stands out' : all.join(', ');
}

const nameOf = (code: Finding['code']): string => code.replaceAll('-', ' ');
