import type { Axis, Confidence, ScanProposal } from '@barwright/geometry';
import { AXES, proposedWay, sameWay, WAY_MOVES, type Way, wayFromAxes } from './scan-way.ts';
import { Card } from './UnitCard.tsx';

export interface WayCardProps {
  readonly first: ScanProposal;
  readonly said: Way | null;
  readonly inForce: Way;
  readonly onWay: (way: Way) => void;
}

/** Which way the horse stands in the file, in words that need no axes. */
export function WayCard({ first, said, inForce, onWay }: WayCardProps) {
  const isAsProposed = sameWay(inForce, proposedWay(first));
  return (
    <Card
      title="Which way: tail, right, up"
      isOpen={said === null}
      trust={leastTrust(first)}
      onRight={() => onWay(inForce)}
    >
      <p className="small">
        In the picture the head should be on the left, the right side behind, the back up.
        {!isAsProposed && ' Changed by you from what the shape suggests.'}
      </p>
      <div className="scan-row">
        {Object.entries(WAY_MOVES).map(([key, { says, move }]) => (
          <button
            key={key}
            type="button"
            {...(key === 'mirror' ? { 'aria-pressed': inForce.isMirrored } : {})}
            onClick={() => onWay(move(inForce))}
          >
            {says}
          </button>
        ))}
        {!isAsProposed && (
          <button type="button" onClick={() => onWay(proposedWay(first))}>
            Back to the proposal
          </button>
        )}
      </div>
      <details className="small">
        <summary>Why, and the axes of the file</summary>
        <p>
          <strong>Tail {first.tail.value}:</strong> {first.tail.reason}
        </p>
        <p>
          <strong>Up {first.up.value}:</strong> {first.up.reason}
        </p>
        <p>
          <strong>Right {first.right.value}:</strong> {first.right.reason}
        </p>
        {first.turn.value !== null && <p>{first.turn.reason}</p>}
        <AxisPickers way={inForce} onWay={onWay} />
      </details>
    </Card>
  );
}

function AxisPickers({ way, onWay }: { way: Way; onWay: (way: Way) => void }) {
  const pick = (tail: Axis, up: Axis): void => {
    const next = wayFromAxes(way, tail, up);
    if (next !== null) onWay(next);
  };
  return (
    <div className="scan-row">
      <label>
        tail{' '}
        <select value={way.tail} onChange={(event) => pick(event.currentTarget.value as Axis, way.up)}>
          {AXES.filter((axis) => axis[1] !== way.up[1]).map((axis) => (
            <option key={axis}>{axis}</option>
          ))}
        </select>
      </label>
      <label>
        up{' '}
        <select value={way.up} onChange={(event) => pick(way.tail, event.currentTarget.value as Axis)}>
          {AXES.filter((axis) => axis[1] !== way.tail[1]).map((axis) => (
            <option key={axis}>{axis}</option>
          ))}
        </select>
      </label>
      <span>
        right is then {way.right}
        {way.turn !== null && ', of the file turned level first'}
      </span>
    </div>
  );
}

const ORDER: readonly Confidence[] = ['unsure', 'likely', 'clear'];

const leastTrust = ({ tail, up, turn }: ScanProposal): Confidence =>
  ORDER.find((trust) => [tail, up, turn].some(({ confidence }) => confidence === trust)) ?? 'clear';
