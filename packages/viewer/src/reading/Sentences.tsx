import type { Cause, Finding } from '@barwright/geometry';
import { Figure } from '../look/Figure.tsx';
import { gapFigure, lengthFigure, type Units } from '../look/format.ts';
import { sentenceIn } from '../look/sentence.ts';
import { TEXTS } from '../look/texts.ts';
import { WordsOf } from '../words/Word.tsx';

const T = TEXTS.reading;

export interface SentencesProps {
  readonly findings: readonly Finding[];
  readonly units: Units;
  readonly selected: number | null;
  /** Causes come with the full result, a moment after the sentences. */
  readonly hasCauses: boolean;
  readonly onSelect: (index: number | null) => void;
}

/** What bears, what is clear and why: one sentence each, touched to see its place. */
export function Sentences({ findings, units, selected, hasCauses, onSelect }: SentencesProps) {
  if (findings.length === 0) return <p>{T.nothing}</p>;
  return (
    <ol className="sentences">
      {findings.map((finding, i) => (
        <li key={`${finding.code}${finding.side}${finding.fromMm}`} className={selected === i ? 'selected' : ''}>
          <button
            type="button"
            className="sentence"
            aria-pressed={selected === i}
            onClick={() => onSelect(selected === i ? null : i)}
          >
            {sentenceIn(finding.sentence, units)}
          </button>
          <p className="place small">
            <span>{finding.side === 'both' ? TEXTS.both : TEXTS[finding.side]}</span>
            <span>
              <Figure of={lengthFigure(finding.fromMm, units, { decimals: 0 })} />
              {finding.toMm - finding.fromMm > 0.5 && (
                <>
                  {' '}
                  {TEXTS.to} <Figure of={lengthFigure(finding.toMm, units, { decimals: 0 })} />
                </>
              )}{' '}
              {TEXTS.cut.behindBlade}
            </span>
            {finding.withinMeasuringError && <span>{T.withinError}</span>}
          </p>
          <WordsOf text={finding.sentence} />
          <Causes finding={finding} units={units} />
        </li>
      ))}
      {!hasCauses && <li className="soft small waiting">{T.causesWaiting}</li>}
    </ol>
  );
}

function Causes({ finding, units }: { finding: Finding; units: Units }) {
  if (finding.causes.length === 0) return null;
  return (
    <ul className="causes small">
      {finding.causes.map((cause) => (
        <li key={cause.cause}>
          <strong>{causeName(cause)}</strong>: {T.of} <Figure of={gapFigure(cause.sizeMm, units)} />, {T.without}{' '}
          <Figure of={gapFigure(cause.sizeWithoutMm, units)} />
        </li>
      ))}
    </ul>
  );
}

const causeName = (cause: Cause): string => cause.names.join(T.togetherWith);
