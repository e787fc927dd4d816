import type { LandmarkProposals } from '@barwright/geometry';
import { type FormEvent, type ReactNode, useState } from 'react';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import { MARK_DOTS, MARK_NAMES } from './marks.ts';
import type { Choices, MarkName } from './scan-choices.ts';
import type { Point } from './scan-way.ts';
import { Card } from './UnitCard.tsx';

const T = SCAN_TEXTS.marks;

export interface MarksCardProps {
  readonly marks: Choices['marks'];
  readonly proposals: LandmarkProposals;
  readonly armed: MarkName | null;
  readonly fileUnit: string;
  /** Asked when touched landmarks contradict the way the horse stands. */
  readonly question: ReactNode;
  readonly onArm: (name: MarkName | null, goesOn: boolean) => void;
  readonly onSet: (name: MarkName, at: Point | null) => void;
  readonly onNudge: (name: MarkName, tailMm: number, rightMm: number) => void;
}

/** Five places to touch; each keeps its proposal until it is touched. */
export function MarksCard(props: MarksCardProps) {
  const { marks, armed, onArm } = props;
  const touched = MARK_NAMES.filter((name) => marks[name] !== undefined).length;
  const next = MARK_NAMES.find((name) => marks[name] === undefined);
  return (
    <Card title={T.title(touched, MARK_NAMES.length - touched)} isOpen={null}>
      <p className="small">{T.help}</p>
      {props.question}
      {next !== undefined && (
        <div className="scan-row">
          <button type="button" aria-pressed={armed !== null} onClick={() => onArm(armed === null ? next : null, true)}>
            {touched === 0 ? T.touchAll : T.touchOthers}
          </button>
        </div>
      )}
      <ul className="scan-marks">
        {MARK_NAMES.map((name) => (
          <MarkRow key={name} name={name} {...props} />
        ))}
      </ul>
    </Card>
  );
}

function MarkRow({
  name,
  marks,
  proposals,
  armed,
  fileUnit,
  onArm,
  onSet,
  onNudge,
}: MarksCardProps & { name: MarkName }) {
  const isTouched = marks[name] !== undefined;
  const at = marks[name] ?? proposals[name].value;
  const [mark, where] = [T.names[name], T.where[name]];
  return (
    <li>
      <HorseSketch dot={MARK_DOTS[name]} isFar={name === 'bladeEdgeRight'} />
      <div>
        <div className="scan-card-head">
          <h4>{mark}</h4>
          <span className={isTouched ? 'scan-chip scan-chip-said' : 'scan-chip'}>
            {isTouched ? T.touched : at === null ? T.notFound : T.proposed}
          </span>
          <button
            type="button"
            aria-pressed={armed === name}
            aria-label={T.touchMark(mark)}
            onClick={() => onArm(armed === name ? null : name, false)}
          >
            {isTouched ? T.touchAgain : T.touch}
          </button>
          {isTouched && (
            <button type="button" aria-label={T.forgetMark(mark)} onClick={() => onSet(name, null)}>
              {T.forget}
            </button>
          )}
        </div>
        <p className="small soft">{isTouched ? where : T.whereProposed(where, proposals[name].reason)}</p>
        <details className="small">
          <summary>{T.type}</summary>
          <TypedPoint key={String(at)} at={at} unit={fileUnit} onSet={(p) => onSet(name, p)} />
          {at !== null && (
            <div className="scan-row">
              {NUDGES.map(([way, tail, right]) => (
                <button
                  key={way}
                  type="button"
                  aria-label={T.nudgeMark(mark, NUDGE_MM, T.nudgeWays[way])}
                  onClick={() => onNudge(name, tail * NUDGE_MM, right * NUDGE_MM)}
                >
                  {T.nudge(NUDGE_MM, T.nudgeWays[way])}
                </button>
              ))}
            </div>
          )}
        </details>
      </div>
    </li>
  );
}

const NUDGE_MM = 2;
/** One step of each, to the tail and to the right. */
const NUDGES = [
  ['head', -1, 0],
  ['tail', 1, 0],
  ['left', 0, -1],
  ['right', 0, 1],
] as const;

/** A point in the file's own coordinates, as another program shows it. */
function TypedPoint({ at, unit, onSet }: { at: Point | null; unit: string; onSet: (p: Point) => void }) {
  const [typed, setTyped] = useState(() => (at ?? [0, 0, 0]).map((value) => String(Number(value.toPrecision(7)))));
  const [isWrong, setWrong] = useState(false);
  const set = (event: FormEvent): void => {
    event.preventDefault();
    const p = typed.map((text) => (text.trim() === '' ? Number.NaN : Number(text)));
    setWrong(!p.every(Number.isFinite));
    if (p.every(Number.isFinite)) onSet(p as unknown as Point);
  };
  return (
    <form className="scan-row" onSubmit={set}>
      {['x', 'y', 'z'].map((letter, k) => (
        <label key={letter}>
          {letter}{' '}
          <input
            inputMode="decimal"
            size={8}
            value={typed[k]}
            onChange={(event) => {
              const { value } = event.currentTarget;
              setTyped((before) => before.map((text, i) => (i === k ? value : text)));
            }}
          />
        </label>
      ))}
      <span className="soft">{T.asInFile(unit)}</span>
      <button type="submit">{T.set}</button>
      {isWrong && (
        <span className="desk-fault" role="alert">
          {T.threeNumbers}
        </span>
      )}
    </form>
  );
}

/** A horse's trunk from its left, head to the left: where on it a landmark is. */
function HorseSketch({ dot, isFar }: { dot: readonly [number, number]; isFar: boolean }) {
  return (
    <svg className="scan-sketch" viewBox="0 0 96 44" aria-hidden="true">
      <path d="M2 20 C9 12 15 6 24 6 C33 6 40 13 52 13 C64 13 74 8 94 12" className="scan-sketch-top" />
      <path d="M94 36 C78 31 68 39 46 41 C32 42 20 40 8 34" />
      <path d="M25 10 L33 15 L31 32 L20 36 C17 31 19 18 25 10 Z" className={isFar ? 'scan-sketch-far' : ''} />
      <path d="M44 15 C48 24 47 33 43 39 M53 15 C58 23 58 31 54 37 M61 14 C67 21 68 27 66 33" />
      <path d="M69 12 C76 18 78 24 78 29" className="scan-sketch-rib" />
      <circle cx={dot[0]} cy={dot[1]} r="4" />
    </svg>
  );
}
