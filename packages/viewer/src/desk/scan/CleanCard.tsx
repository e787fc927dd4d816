import type { CleanStep, CleanStepReport } from '@barwright/geometry';
import { CLEAN_STEP_NAMES, CLEAN_STEP_SAYS } from './clean-texts.ts';
import { Card } from './UnitCard.tsx';

export interface CleanCardProps {
  readonly steps: readonly CleanStepReport[];
  readonly leftOut: readonly CleanStep[];
  readonly takenOut: number;
  readonly onToggle: (step: CleanStep, isOn: boolean) => void;
}

/** What is taken out of the scan, step by step, and put back by a touch. */
export function CleanCard({ steps, leftOut, takenOut, onToggle }: CleanCardProps) {
  const moved = steps.reduce((most, { largestMotionMm }) => Math.max(most, largestMotionMm), 0);
  return (
    <Card title={takenOut === 0 ? 'Clean-up: nothing taken out' : 'Clean-up'} isOpen={null}>
      <p className="small">
        {takenOut > 0 && `${takenOut.toLocaleString('en-GB')} triangles are taken out, plum in the picture. `}
        Furthest a point moved: {moved === 0 ? '0' : moved.toPrecision(2)} mm. Holes stay holes; nothing is filled. A
        step that is off is undone.
      </p>
      <ul className="scan-steps small">
        {CLEAN_STEP_NAMES.map((step) => (
          <li key={step}>
            <label>
              <input
                type="checkbox"
                checked={!leftOut.includes(step)}
                onChange={(event) => onToggle(step, event.currentTarget.checked)}
              />{' '}
              {CLEAN_STEP_SAYS[step]}
            </label>
            <span className="soft">
              {leftOut.includes(step) ? 'Off.' : steps.find((report) => report.step === step)?.sentence}
            </span>
          </li>
        ))}
      </ul>
    </Card>
  );
}
