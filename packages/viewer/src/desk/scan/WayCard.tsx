import type { Axis, Confidence, ScanProposal } from '@barwright/geometry';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import { AXES, proposedWay, sameWay, WAY_MOVES, type Way, wayFromAxes } from './scan-way.ts';
import { Card } from './UnitCard.tsx';

const T = SCAN_TEXTS.way;

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
    <Card title={T.title} isOpen={said === null} trust={leastTrust(first)} onRight={() => onWay(inForce)}>
      <p className="small">
        {T.shouldBe}
        {!isAsProposed && T.changed}
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
            {T.toProposal}
          </button>
        )}
      </div>
      <details className="small">
        <summary>{T.why}</summary>
        <p>
          <strong>{T.tailIs(first.tail.value)}</strong> {first.tail.reason}
        </p>
        <p>
          <strong>{T.upIs(first.up.value)}</strong> {first.up.reason}
        </p>
        <p>
          <strong>{T.rightIs(first.right.value)}</strong> {first.right.reason}
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
        {T.tail}{' '}
        <select value={way.tail} onChange={(event) => pick(event.currentTarget.value as Axis, way.up)}>
          {AXES.filter((axis) => axis[1] !== way.up[1]).map((axis) => (
            <option key={axis}>{axis}</option>
          ))}
        </select>
      </label>
      <label>
        {T.up}{' '}
        <select value={way.up} onChange={(event) => pick(way.tail, event.currentTarget.value as Axis)}>
          {AXES.filter((axis) => axis[1] !== way.tail[1]).map((axis) => (
            <option key={axis}>{axis}</option>
          ))}
        </select>
      </label>
      <span>
        {T.rightThen(way.right)}
        {way.turn !== null && T.turnedFirst}
      </span>
    </div>
  );
}

const ORDER: readonly Confidence[] = ['unsure', 'likely', 'clear'];

const leastTrust = ({ tail, up, turn }: ScanProposal): Confidence =>
  ORDER.find((trust) => [tail, up, turn].some(({ confidence }) => confidence === trust)) ?? 'clear';
