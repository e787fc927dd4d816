import { parentDocument, TAKE_OFF_STEPS, type TakeOffStep } from '@barwright/geometry';
import { useMemo, useState } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { DEMO_PATTERNS, demoPattern } from '../../files/demos.ts';
import { FilesButton } from '../../look/FilesButton.tsx';
import { figureText, lengthFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { todayIso } from '../../look/today.ts';
import { useDocument, useView } from '../../state/index.ts';
import { studyLine } from '../study-line.ts';
import { DepthTable } from './DepthTable.tsx';
import { SheetView } from './SheetView.tsx';
import type { OtherPattern, TakeOffView, TakeOffWish } from './takeoff-service.ts';
import { useAnswer } from './use-answer.ts';
import './takeoff.css';

const T = TEXTS.takeOff;

interface Choices {
  readonly against: string;
  readonly otherIsCarved: boolean;
  readonly align: TakeOffWish['align'];
  readonly raised: boolean;
  readonly step: TakeOffStep;
}

type Opened = Extract<OtherPattern, { kind: 'file' }>;

/** What wood lies between the bench's pattern and another one. */
export default function TakeOffStudy() {
  const bench = useDocument((documents) => documents.pattern);
  const units = useView((view) => view.units);
  const [opened, setOpened] = useState<Opened | null>(null);
  const parent = useMemo(() => parentDocument(bench), [bench]);
  const [choices, setChoices] = useState<Choices>({
    against: parent === null ? DEMO_PATTERNS[0]!.id : 'parent',
    otherIsCarved: true,
    align: 'low points',
    raised: false,
    step: units.length === 'in' ? '1/16 in' : '0.5 mm',
  });
  const wish = useMemo((): TakeOffWish | null => {
    const { against, ...rest } = choices;
    const json = against === 'parent' ? parent : demoPattern(against);
    const other: OtherPattern | null =
      against === 'opened' ? opened : json === null || json === undefined ? null : { kind: 'json', json };
    return other === null ? null : { bench, other, ...rest, drawnOn: todayIso() };
  }, [choices, bench, parent, opened]);
  const { value, refusal, isOlder } = useAnswer(wish, (asked: TakeOffWish) =>
    studyLine().ask((service) => service.takeOff(asked)),
  );
  const open = async ([file]: readonly File[]): Promise<void> => {
    if (file === undefined) return;
    setOpened({ kind: 'file', fileName: file.name, text: await file.text() });
    setChoices((now) => ({ ...now, against: 'opened' }));
  };
  return (
    <div className="takeoff">
      <Wishes
        choices={choices}
        parentName={parent?.name ?? null}
        openedName={opened?.fileName ?? null}
        onChange={(change) => setChoices({ ...choices, ...change })}
        onOpen={open}
      />
      {refusal !== null && <Problem problem={refusal} />}
      {wish === null && <p className="soft">{T.same}</p>}
      {value === null && wish !== null && refusal === null && <p className="soft">{T.working}</p>}
      {value !== null && (
        <div className={isOlder ? 'takeoff-result stale' : 'takeoff-result'} aria-busy={isOlder}>
          <Result view={value} units={units} />
        </div>
      )}
    </div>
  );
}

function Wishes({
  choices,
  parentName,
  openedName,
  onChange,
  onOpen,
}: {
  choices: Choices;
  parentName: string | null;
  openedName: string | null;
  onChange: (change: Partial<Choices>) => void;
  onOpen: (files: readonly File[]) => void;
}) {
  return (
    <div className="takeoff-wishes small">
      <label>
        {T.against}{' '}
        <select value={choices.against} onChange={(event) => onChange({ against: event.currentTarget.value })}>
          {parentName !== null && <option value="parent">{T.parent(parentName)}</option>}
          {openedName !== null && <option value="opened">{T.opened(openedName)}</option>}
          {DEMO_PATTERNS.map(({ id, says }) => (
            <option key={id} value={id}>
              {says}
            </option>
          ))}
        </select>
      </label>
      <FilesButton says={T.openOne} label={T.openOne} accept=".json" onFiles={onOpen} />
      <label>
        {T.direction}{' '}
        <select
          value={choices.otherIsCarved ? 'other' : 'bench'}
          onChange={(event) => onChange({ otherIsCarved: event.currentTarget.value === 'other' })}
        >
          <option value="other">{T.otherCarved}</option>
          <option value="bench">{T.benchCarved}</option>
        </select>
      </label>
      <label>
        {T.align}{' '}
        <select
          value={choices.align}
          onChange={(event) => onChange({ align: event.currentTarget.value as Choices['align'] })}
        >
          <option value="low points">{T.low}</option>
          <option value="front tips">{T.tips}</option>
        </select>
      </label>
      <label>
        {T.step}{' '}
        <select value={choices.step} onChange={(event) => onChange({ step: event.currentTarget.value as TakeOffStep })}>
          {Object.keys(TAKE_OFF_STEPS).map((step) => (
            <option key={step}>{step}</option>
          ))}
        </select>
      </label>
      <label className="takeoff-raised">
        <input
          type="checkbox"
          checked={choices.raised}
          onChange={(event) => onChange({ raised: event.currentTarget.checked })}
        />{' '}
        {T.raise}
      </label>
    </div>
  );
}

function Result({ view, units }: { view: TakeOffView; units: Units }) {
  const { raiseMm, raiseForNoneAddedMm } = view;
  const by = (mm: number): string => figureText(lengthFigure(mm, units));
  return (
    <>
      <p>
        <strong>{view.carved}</strong> → <strong>{view.wanted}</strong>
      </p>
      <ul className="takeoff-words">
        {(['left', 'right'] as const).map((side) => (
          <li key={side}>
            <strong>{TEXTS[side]}</strong>: {view.words[side]}
          </li>
        ))}
        {raiseMm > 0 && <li>{T.raised(by(raiseMm))}</li>}
        {raiseForNoneAddedMm > raiseMm + 0.05 && <li>{T.lacks(by(raiseForNoneAddedMm))}</li>}
      </ul>
      <SheetView svg={view.svg} label={T.sheet} saveAs={`${view.carved} to ${view.wanted}`} />
      <DepthTable rows={view.stations} units={units} />
      <p className="small soft">{T.note}</p>
    </>
  );
}
