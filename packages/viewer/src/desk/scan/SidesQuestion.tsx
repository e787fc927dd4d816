import type { ScanProposal } from '@barwright/geometry';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';

const T = SCAN_TEXTS.sides;

export interface SidesQuestionProps {
  readonly questions: ScanProposal['questions'];
  readonly isMirrored: boolean;
  readonly onMirror: () => void;
  readonly onRound: () => void;
  readonly onSwap: () => void;
}

/** Blade edges touched on the wrong sides: only a person knows what is swapped. */
export function SidesQuestion({ questions, isMirrored, onMirror, onRound, onSwap }: SidesQuestionProps) {
  const [asked] = questions;
  if (asked === undefined) return null;
  return (
    <div className="scan-question" role="alert">
      <p>
        <strong>{asked.question}</strong> {asked.evidence}.
      </p>
      <div className="scan-row">
        <button type="button" onClick={onSwap}>
          {T.swap}
        </button>
        <button type="button" onClick={onMirror}>
          {isMirrored ? T.notMirrored : T.mirrored}
        </button>
        <button type="button" onClick={onRound}>
          {T.round}
        </button>
      </div>
    </div>
  );
}
