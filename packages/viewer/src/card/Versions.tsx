import type { PatternDifference } from '@barwright/geometry';
import { type FormEvent, useId, useState } from 'react';
import { figureText, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { nextVersionName, useDocument, useView } from '../state/index.ts';
import {
  forgetVersion,
  goToVersion,
  type KeptVersion,
  keepVersion,
  useVersions,
  useVersionsKept,
} from '../state/versions.ts';
import { deltaFigure, type ValueKind, valueFigure } from './value-text.ts';

const T = TEXTS.versions;
const MOST_SAID = 6;

/** Versions of the pattern that were kept, newest first, each with what changed, and the way back to it. */
export function Versions() {
  const kept = useVersions();
  const isKept = useVersionsKept();
  const units = useView((view) => view.units);
  return (
    <details className="card-group versions">
      <summary>{T.title}</summary>
      <p className="small soft">{isKept ? T.help : T.unavailable}</p>
      <KeepForm latest={kept.at(-1)?.name ?? null} />
      {kept.length === 0 ? (
        <p className="small soft">{T.none}</p>
      ) : (
        <ol className="version-list">
          {[...kept].reverse().map((version) => (
            <Version key={version.id} version={version} units={units} />
          ))}
        </ol>
      )}
    </details>
  );
}

function KeepForm({ latest }: { latest: string | null }) {
  const id = useId();
  const onBench = useDocument((documents) => documents.pattern.name);
  const [typed, setTyped] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const name = typed ?? (latest === onBench ? nextVersionName(onBench) : onBench);
  const keep = async (event: FormEvent): Promise<void> => {
    event.preventDefault();
    const clean = name.trim();
    if (clean === '') return;
    const outcome = await keepVersion(clean);
    setProblem(outcome.ok ? null : `Expected ${outcome.error.expected}. ${outcome.error.remedy}`);
    if (outcome.ok) setTyped(null);
  };
  return (
    <form className="version-keep" onSubmit={keep}>
      <label htmlFor={id} className="small">
        {T.name}
      </label>
      <input id={id} maxLength={100} value={name} onChange={(event) => setTyped(event.currentTarget.value)} />
      <button type="submit">{T.keep}</button>
      {problem !== null && (
        <p className="problem small" role="alert">
          {problem}
        </p>
      )}
    </form>
  );
}

function Version({ version, units }: { version: KeptVersion; units: Units }) {
  const onBench = useDocument((documents) => documents.pattern.values);
  const isHere = onBench === version.pattern.values;
  return (
    <li>
      <strong>{version.name}</strong>{' '}
      <span className="small soft">{isHere ? T.onBench : version.keptAt.slice(0, 10)}</span>
      <p className="small">{changeWords(version, units)}</p>
      <span className="version-buttons">
        <button type="button" disabled={isHere} onClick={() => goToVersion(version.id)}>
          {T.back}
        </button>
        <button type="button" onClick={() => forgetVersion(version.id)}>
          {T.remove}
        </button>
      </span>
    </li>
  );
}

/** "Slope, front 43° to 45° (+2°); Spread, front 162 to 168 mm (+6 mm); since Post". */
export function changeWords({ changes, since }: Pick<KeptVersion, 'changes' | 'since'>, units: Units): string {
  if (since === null) return T.first;
  if (changes.length === 0) return `${T.same} ${T.since(since)}`;
  const said = changes.slice(0, MOST_SAID).map((change) => oneChange(change, units));
  const more = changes.length > MOST_SAID ? [T.more(changes.length - MOST_SAID)] : [];
  return `${[...said, ...more].join('; ')}; ${T.since(since)}`;
}

function oneChange({ label, unit, side, value, parentValue, delta }: PatternDifference, units: Units): string {
  const kind: ValueKind = unit === 'mm' ? 'length' : unit === 'deg' ? 'angle' : unit === '%' ? 'percent' : 'plain';
  const text = (of: PatternDifference['value']): string =>
    of === null ? TEXTS.noData : figureText(valueFigure(of, kind, units));
  const by = delta === null ? '' : ` (${figureText(deltaFigure(delta, kind, units))})`;
  const whose = side === 'both' ? '' : `, ${TEXTS[side]}`;
  return `${label}${whose} ${text(parentValue)} ${TEXTS.to} ${text(value)}${by}`;
}
