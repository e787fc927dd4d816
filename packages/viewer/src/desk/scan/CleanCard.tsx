import { CLEAN_STEPS, type CleanStep, type CleanStepReport } from '@barwright/geometry';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import { Card } from './UnitCard.tsx';

const T = SCAN_TEXTS.clean;

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
    <Card title={takenOut === 0 ? T.titleNothing : T.title} isOpen={null}>
      <p className="small">
        {takenOut > 0 && T.takenOut(takenOut.toLocaleString('en-GB'))}
        {T.moved(moved === 0 ? '0' : moved.toPrecision(2))}
      </p>
      <ul className="scan-steps small">
        {CLEAN_STEPS.map((step) => (
          <li key={step}>
            <label>
              <input
                type="checkbox"
                checked={!leftOut.includes(step)}
                onChange={(event) => onToggle(step, event.currentTarget.checked)}
              />{' '}
              {T.steps[step]}
            </label>
            <span className="soft">
              {leftOut.includes(step) ? T.off : steps.find((report) => report.step === step)?.sentence}
            </span>
          </li>
        ))}
      </ul>
    </Card>
  );
}
