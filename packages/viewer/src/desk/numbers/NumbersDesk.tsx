import { withoutOwner } from '@barwright/geometry';
import { useEffect, useMemo, useRef, useState } from 'react';
import { fileNameFor, saveJson } from '../../files/save-file.ts';
import { NUMBERS_TEXTS } from '../../look/texts/numbers.ts';
import { todayIso } from '../../look/today.ts';
import { openBack, useView } from '../../state/index.ts';
import { closeDesk } from '../desk-store.ts';
import { HistoryButtons } from '../HistoryButtons.tsx';
import { RecordForm } from '../RecordForm.tsx';
import { type RecordDraft, recordFaults, startRecord } from '../record-draft.ts';
import { DeskEnd } from '../tracings/DeskEnd.tsx';
import { useHistory } from '../use-history.ts';
import { Assumed } from './Assumed.tsx';
import { NumbersForm } from './NumbersForm.tsx';
import { type NumberKey, nameOf, type Sheet } from './number-fields.ts';
import { numbersLines } from './numbers-lines.ts';
import { readSheet, type SheetRead } from './read-sheet.ts';
import { SectionDrawings } from './SectionDrawings.tsx';
import { SideDrawing } from './SideDrawing.tsx';
import './numbers.css';

const T = NUMBERS_TEXTS.desk;

const START = (): Sheet => ({
  texts: {},
  bySide: false,
  line: 'dip',
  record: startRecord('', T.how, todayIso()),
});

/** A person with a flexible ruler and a level, no computer at the horse: the back that so few numbers give. */
export default function NumbersDesk() {
  const units = useView((view) => view.units);
  const history = useHistory<Sheet>(START);
  const sheet = history.now;
  const [lit, setLit] = useState<NumberKey | null>(null);
  const read = useMemo(() => readSheet(sheet, units), [sheet, units]);
  const back = useLastGood(read.back);
  const lines = useMemo(() => (back === null ? null : numbersLines(back.document)), [back]);
  const change = (next: Partial<Sheet>, about?: string): void => history.change({ ...sheet, ...next }, about);
  const missing = whatIsMissing(read, recordFaults(fixedRecord(sheet.record)));
  return (
    <div className="desk-halves numbers-halves">
      <section
        className={read.back === null ? 'desk-look numbers-look stale' : 'desk-look numbers-look'}
        aria-label={T.drawing}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and has to by keys too
        tabIndex={0}
      >
        {lines !== null && (
          <>
            <SideDrawing lines={lines} read={read} lit={lit} units={units} />
            <SectionDrawings lines={lines} read={read} lit={lit} units={units} />
            <p className="small soft">
              {read.back === null ? T.lastGood : T.trueScale}
              {T.band}
              {read.missing.length > 0 && T.average}
            </p>
          </>
        )}
      </section>
      <section className="desk-side" aria-label={T.side}>
        <HistoryButtons
          canUndo={history.canUndo}
          canRedo={history.canRedo}
          onUndo={history.undo}
          onRedo={history.redo}
        />
        <NumbersForm
          sheet={sheet}
          read={read}
          units={units}
          onText={(key, text) => change({ texts: { ...sheet.texts, [key]: text } }, key)}
          onSheet={change}
          onFocus={setLit}
        />
        {read.back !== null && <Assumed document={read.back.document} assumed={read.assumed} units={units} />}
        <RecordForm
          hasFixedUncertainty
          draft={sheet.record}
          onChange={(record) => change({ record }, `record ${changedField(sheet.record, record)}`)}
        />
        <DeskEnd
          missing={missing}
          owner={sheet.record.owner}
          onSet={() => {
            if (read.back === null) return;
            const json = read.back.document;
            openBack({ name: json.name, json, mesh: null });
            closeDesk();
          }}
          onSave={(withOwner) => {
            if (read.back === null) return;
            const json = read.back.document;
            saveJson(withOwner ? json : withoutOwner(json), fileNameFor(json.name, 'back'));
          }}
        />
      </section>
    </div>
  );
}

/** The last back that could be made: what is drawn while a number is half written. */
function useLastGood(back: SheetRead['back']): SheetRead['back'] {
  const last = useRef<SheetRead['back']>(null);
  useEffect(() => {
    if (back !== null) last.current = back;
  }, [back]);
  return back ?? last.current;
}

/** Both uncertainties follow from the way of measuring. */
const fixedRecord = (record: RecordDraft): RecordDraft => ({ ...record, uncertaintyMm: '0', uncertaintyDeg: '0' });

function whatIsMissing(read: SheetRead, faults: ReturnType<typeof recordFaults>): string | null {
  const [wrong] = Object.keys(read.faults) as NumberKey[];
  if (wrong !== undefined) return T.missing.wrong(nameOf(wrong));
  if (read.missing.length > 0) return T.missing.numbers(read.missing.map(nameOf));
  const [fault] = Object.values(faults);
  return fault === undefined ? null : T.missing.record(fault);
}

const changedField = (before: RecordDraft, after: RecordDraft): string =>
  (Object.keys(after) as (keyof RecordDraft)[]).find((key) => before[key] !== after[key]) ?? '';
