import type { ScanProposal } from '@barwright/geometry';
import { useEffect, useMemo, useState } from 'react';
import { useStore } from 'zustand';
import { fileNameFor, saveJson } from '../../files/save-file.ts';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import { openBack, refuse } from '../../state/actions.ts';
import { deskLine } from '../desk-line.ts';
import { closeDesk } from '../desk-store.ts';
import { HistoryButtons } from '../HistoryButtons.tsx';
import { RecordForm } from '../RecordForm.tsx';
import { measuredOf, type RecordDraft, recordFaults, recordOf, startRecord } from '../record-draft.ts';
import { CleanCard } from './CleanCard.tsx';
import { EndBar } from './EndBar.tsx';
import { horseFrame } from './horse-frame.ts';
import { MarksCard } from './MarksCard.tsx';
import { ScanLook } from './ScanLook.tsx';
import { SidesQuestion } from './SidesQuestion.tsx';
import { type Choices, swapped } from './scan-choices.ts';
import { inForce, ScanSession, type ScanView } from './scan-session.ts';
import { WAY_MOVES } from './scan-way.ts';
import { UnitCard } from './UnitCard.tsx';
import { useChoices } from './use-choices.ts';
import { useMarks } from './use-marks.ts';
import { WayCard } from './WayCard.tsx';
import { Working } from './Working.tsx';
import './scan.css';

const T = SCAN_TEXTS.desk;

/** A scan becomes a back: what its file does not say is proposed and shown, a person confirms it, landmarks are touched. */
export default function ScanDesk({ fileName, bytes }: { fileName: string; bytes: Uint8Array }) {
  const [session] = useState(() => new ScanSession(bytes, fileName));
  const scan = useStore(session.view);
  const { history, choices, change, correct } = useChoices();
  const [record, setRecord] = useState(() => firstRecord(fileName));
  useEffect(() => {
    void session.start();
    return () => session.end();
  }, [session]);
  useEffect(() => session.follow(choices), [session, choices]);
  useEffect(() => {
    if (scan.fault === null) return;
    closeDesk();
    refuse('file', fileName, scan.fault);
  }, [scan.fault, fileName]);
  const force = useMemo(() => inForce(choices, scan), [choices, scan]);
  const { drawn, proposal, first } = scan;
  const marks = useMarks(session, choices, proposal, { change, correct });
  const frame = useMemo(() => {
    if (force === null || drawn === null || proposal === null) return null;
    const of = (name: 'withersTop' | 'lastRib') => choices.marks[name] ?? proposal.landmarks[name].value;
    const shown = { withersTop: of('withersTop'), lastRib: of('lastRib'), midplane: proposal.midplane.value };
    return horseFrame(force.way, force.unit, shown, drawn);
  }, [force, drawn, proposal, choices.marks]);

  if (scan.broken !== null) throw scan.broken;

  const write = async (withOwner: boolean, tried: boolean) =>
    session.document(
      asSaid(choices, force),
      { name: record.name.trim(), measured: measuredOf(record), record: recordOf(record), withOwner },
      tried,
    );
  const setTree = async (): Promise<void> => {
    const json = await write(true, true);
    if (json === null) return;
    openBack({ name: record.name.trim(), json, mesh: { fileName, bytes } });
    closeDesk();
  };
  const save = async (withOwner: boolean): Promise<void> => {
    const json = await write(withOwner, false);
    if (json !== null) saveJson(json, fileNameFor(record.name, 'back'));
  };

  return (
    <div className="desk-halves scan-halves">
      <ScanLook
        drawn={drawn}
        takenOut={scan.takenOut}
        frame={frame}
        pins={marks.pins}
        armed={marks.armed}
        hasMissed={marks.hasMissed}
        onTouch={marks.touch}
        onDisarm={() => marks.arm(null, false)}
        onMove={marks.move}
        onNudge={(name, tailMm, rightMm) =>
          frame !== null && drawn !== null && marks.nudge(name, tailMm, rightMm, frame, drawn.centre)
        }
        view={marks.view}
        onView={marks.look}
      >
        <Working
          busy={scan.busy}
          onStop={() => {
            if (first !== null) return session.stop();
            deskLine().restart();
            closeDesk();
          }}
        />
      </ScanLook>
      <div className="desk-side">
        {first !== null && proposal !== null && force !== null && (
          <>
            <div className="scan-row scan-top">
              <span className="small soft">{factsOf(scan)}</span>
              <HistoryButtons
                canUndo={history.canUndo}
                canRedo={history.canRedo}
                onUndo={history.undo}
                onRedo={history.redo}
              />
            </div>
            <UnitCard first={first} said={choices.unit} inForce={force.unit} onUnit={(unit) => change({ unit })} />
            <WayCard first={first} said={choices.way} inForce={force.way} onWay={(way) => change({ way })} />
            <MarksCard
              marks={choices.marks}
              proposals={proposal.landmarks}
              armed={marks.armed}
              fileUnit={force.unit}
              question={
                <SidesQuestion
                  questions={proposal.questions}
                  isMirrored={force.way.isMirrored}
                  onMirror={() => change({ way: WAY_MOVES.mirror.move(force.way) })}
                  onRound={() => change({ way: WAY_MOVES.round.move(force.way) })}
                  onSwap={() => change({ marks: swapped(choices.marks) })}
                />
              }
              onArm={marks.arm}
              onSet={marks.set}
              onNudge={(name, tailMm, rightMm) =>
                frame !== null && drawn !== null && marks.nudge(name, tailMm, rightMm, frame, drawn.centre)
              }
            />
            <CleanCard
              steps={scan.steps}
              leftOut={choices.leftOut}
              takenOut={(scan.takenOut?.triangles.length ?? 0) / 3}
              onToggle={(step, isOn) =>
                change({
                  leftOut: isOn ? choices.leftOut.filter((one) => one !== step) : [...choices.leftOut, step],
                })
              }
            />
            <section className="scan-card">
              <RecordForm draft={record} onChange={setRecord} />
            </section>
            <EndBar
              open={openPoints(choices, record, proposal)}
              canTakeAll={choices.unit === null || choices.way === null}
              isBusy={scan.busy !== null}
              hasOwner={record.owner.trim() !== ''}
              refused={scan.refused}
              onAll={() => change({ unit: force.unit, way: force.way })}
              onSet={() => void setTree()}
              onSave={(withOwner) => void save(withOwner)}
            />
          </>
        )}
      </div>
    </div>
  );
}

/** With unit and way written out, so that what was seen when it was accepted is what is kept. */
const asSaid = (choices: Choices, force: ReturnType<typeof inForce>): Choices =>
  force === null ? choices : { ...choices, unit: force.unit, way: force.way };

function firstRecord(fileName: string): RecordDraft {
  const name = fileName
    .replace(/\.[^.]+$/, '')
    .replace(/[-_]+/g, ' ')
    .trim();
  const now = new Date();
  const today = [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0'));
  return startRecord(name.slice(0, 1).toUpperCase() + name.slice(1), T.how(fileName).slice(0, 200), today.join('-'));
}

/** What is still open, in words; empty when the tree can be set. */
function openPoints(choices: Choices, record: RecordDraft, { questions }: ScanProposal): string[] {
  return [
    ...(choices.unit === null ? [T.open.unit] : []),
    ...(choices.way === null ? [T.open.way] : []),
    ...(questions.some(({ blocking }) => blocking) ? [T.open.sides] : []),
    ...(Object.keys(recordFaults(record)).length > 0 ? [T.open.record] : []),
  ];
}

function factsOf({ facts, surfaceSays }: ScanView): string {
  if (facts === null) return '';
  const { points, triangles, format, warnings } = facts;
  const count = (n: number): string => n.toLocaleString('en-GB');
  const what = triangles > 0 ? T.surface(count(triangles), count(points)) : T.cloud(count(points));
  return [T.readAs(what, format.toUpperCase()), ...warnings, ...surfaceSays].join(' ');
}
