import { stackLayers } from '../../packages/geometry/src/layers/index.ts';
import {
  type ContactBody,
  type Load,
  type Pose,
  type Seat,
  type SeatOptions,
  seatBody,
} from '../../packages/geometry/src/seating/index.ts';
import type { DistanceField } from '../../packages/geometry/src/spatial/index.ts';
import { measureInterleaved } from './measure.ts';
import { bvhField, bvhOf, chartsOf } from './mesh-reference.ts';
import type { Row } from './row.ts';
import { barPoints, syntheticBack } from './synthetic-back.ts';

const STACK = stackLayers([{ name: 'layer', thicknessMm: 0, stiffnessKPaPerMm: 4 }]);
const LOADS: readonly Load[] = [{ pointMm: [20, 12, 60], forceN: [0, 0, -900] }];
/** Same stop for both sides: facets do not settle much further (DESIGN 4). */
const STOP = 1e-4;
/** Plain Newton looks at all points in every step: counting steps turns the coarse start off. */
const PLAIN: SeatOptions = { tolerance: STOP, mostSteps: 80 };
const ROUNDS = { rounds: 5, warmUps: 1 };

/** T5, T8: a rigid body of 10,000 cells settling under 900 N, cold and after a move of 0.3 mm. */
export async function run(): Promise<Row[]> {
  const mesh = syntheticBack(200_000);
  const fields = { ours: chartsOf(mesh), reference: bvhField(mesh, bvhOf(mesh)) };
  const body = bodyOf(barPoints());
  const settled = seatBody(body, fields.ours, STACK, LOADS, poseAt(-1), { tolerance: STOP });
  const cold = poseAt(0);
  const warm = { ...settled.pose, zMm: settled.pose.zMm + 0.3 };
  return [
    settleRow('T5', 'cold settle, the same algorithm on three-mesh-bvh, 200k', body, fields, cold, { tolerance: STOP }),
    settleRow('T5', 'cold settle, plain Newton on three-mesh-bvh, 200k', body, fields, cold, PLAIN),
    settleRow('T8', 'warm settle 0.3 mm off, the same algorithm on three-mesh-bvh, 200k', body, fields, warm, {
      tolerance: STOP,
    }),
    settleRow('T8', 'warm settle 0.3 mm off, plain Newton on three-mesh-bvh, 200k', body, fields, warm, PLAIN),
  ];
}

function settleRow(
  target: string,
  name: string,
  body: ContactBody,
  fields: { readonly ours: DistanceField; readonly reference: DistanceField },
  start: Pose,
  referenceOptions: SeatOptions,
): Row {
  let a: Seat | undefined;
  let b: Seat | undefined;
  const times = measureInterleaved(
    () => {
      a = seatBody(body, fields.ours, STACK, LOADS, start, { tolerance: STOP });
      return a.pose.zMm;
    },
    () => {
      b = seatBody(body, fields.reference, STACK, LOADS, start, referenceOptions);
      return b.pose.zMm;
    },
    ROUNDS,
  );
  const fine = seatBody(body, fields.ours, STACK, LOADS, start, { tolerance: 1e-9 });
  return { target, name, ...times, unit: 'ms', accuracy: compare(a!, b!, fine) };
}

function compare(ours: Seat, reference: Seat, fine: Seat): string {
  const apart = (p: Seat, q: Seat): string => {
    const gaps = p.rows.distanceMm.map((d, i) => Math.abs(d - q.rows.distanceMm[i])).sort();
    return gaps[gaps.length - 1].toFixed(5);
  };
  const area = (seat: Seat): number => seat.equilibrium.pressedCells;
  return (
    `${ours.status} / ${reference.status}; largest gap difference ${apart(ours, reference)} mm, ` +
    `from fully converged ${apart(ours, fine)} mm; pressed cells ${area(ours)} / ${area(reference)}; plain JS`
  );
}

/** The cloud itself is the body, turned about the middle of its length. */
function bodyOf(points: Float64Array): ContactBody {
  const count = points.length / 3;
  return {
    count,
    pointsMm: points.map((p, k) => (k % 3 === 0 ? p - 350 : p)),
    areaMm2: new Float64Array(count).fill((2 * 560 * 140) / count),
    bars: [
      { side: 'left', from: 0, to: count / 2 },
      { side: 'right', from: count / 2, to: count },
    ],
  };
}

const poseAt = (zMm: number): Pose => ({ xMm: 350, yMm: 0, zMm, rollRad: 0.016, pitchRad: 0.019, yawRad: 0 });
