import { Figure } from '../../look/Figure.tsx';
import { gapFigure, type Units } from '../../look/format.ts';
import { sentenceIn } from '../../look/sentence.ts';
import { TWO_BACKS_TEXTS } from '../../look/texts/two-backs.ts';
import { ChangeTable, type ChangeTableProps } from './Changes.tsx';
import type { ComparedSide } from './two-backs-service.ts';

const T = TWO_BACKS_TEXTS.change;
const WHICH = TWO_BACKS_TEXTS.which;

/** What changed in figures and sentences, with who measured, how well, and what is doubtful about it. */
export function WhatChanged({ view, align, units, isOlder }: ChangeTableProps & { isOlder: boolean }) {
  return (
    <section className={isOlder ? 'two-backs-said stale' : 'two-backs-said'} aria-label={T.label}>
      {view.doubts.length > 0 && (
        <div className="problem">
          <p>{T.doubts}</p>
          <ul className="desk-said">
            {view.doubts.map((doubt) => (
              <li key={doubt}>{sentenceIn(doubt, units)}</li>
            ))}
          </ul>
        </div>
      )}
      <ChangeTable view={view} align={align} units={units} />
      <ul className="desk-said">
        {view.sentences.map((said) => (
          <li key={said}>{sentenceIn(said, units)}</li>
        ))}
      </ul>
      <MeasuredWords title={WHICH.before} side={view.before} units={units} />
      <MeasuredWords title={WHICH.after} side={view.after} units={units} />
      {view.due !== null && <p className={view.due.due ? 'two-backs-due' : 'small soft'}>{view.due.sentence}</p>}
      {[...new Set([...view.before.warnings, ...view.after.warnings])].map((warning) => (
        <p key={warning} className="small soft">
          {sentenceIn(warning, units)}
        </p>
      ))}
    </section>
  );
}

/** Which back a side of the comparison is, by whom it was measured and how well. */
function MeasuredWords({ title, side, units }: { title: string; side: ComparedSide; units: Units }) {
  return (
    <p className="small">
      <strong>{T.measured.title(title)}</strong>
      {T.measured.by(side.name, side.on, side.by)}
      <Figure of={gapFigure(side.uncertaintyMm, units)} />
      {T.measured.degrees(side.uncertaintyDeg)}
    </p>
  );
}
