import type { Finding, FitResult } from '@barwright/geometry';
import { Problem } from '../../card/TypedField.tsx';
import { angleFigure, figureText, forceFigure, pressureFigure, shareFigure, type Units } from '../../look/format.ts';
import { RIDING_TEXTS } from '../../look/texts/riding.ts';
import { useView } from '../../state/index.ts';
import { choose, type RidingRow, useRiding } from './riding-store.ts';

const T = RIDING_TEXTS.cases;

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
  { name: T.columns.mean, of: ({ contact }) => contact.meanPressureKPa, say: kPa },
  { name: T.columns.p95, of: ({ contact }) => contact.p95PressureKPa, say: kPa },
  { name: T.columns.peak, of: ({ contact }) => contact.peakPressureKPa, say: kPa },
  { name: T.columns.pitch, of: ({ pose }) => pose.pitchDeg, say: degrees },
  { name: T.columns.roll, of: ({ pose }) => pose.rollDeg, say: degrees },
  { name: T.columns.front, of: ({ contact }) => contact.shareFront, say: share },
  { name: T.columns.rear, of: ({ contact }) => contact.shareRear, say: share },
  { name: T.columns.leftBar, of: ({ contact }) => contact.shareLeft, say: share },
  { name: T.columns.heldFore, of: ({ reactions }) => reactions.xN, say: newtons },
  { name: T.columns.heldSideways, of: ({ reactions }) => reactions.yN, say: newtons },
];

/** Every case in one row, with its difference from the horse standing. */
export function RidingCases() {
  const rows = useRiding((riding) => riding.rows);
  const standing = rows[0]!.ridden?.result ?? null;
  return (
    <div className="study-table-holder">
      <table className="study-table">
        <caption className="visually-hidden">{T.caption}</caption>
        <thead>
          <tr>
            <th scope="col">{T.name}</th>
            {COLUMNS.map(({ name }) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
            <th scope="col">{T.findings}</th>
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
          {T.waiting}
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
  const all = status === 'settled' ? names : [T.unsettled(status), ...names];
  return all.length === 0 ? T.none : all.join(', ');
}

const nameOf = (code: Finding['code']): string => code.replaceAll('-', ' ');
