import { type LayerStack, stackLayers } from '../layers/index.ts';
import type { DistanceField } from '../spatial/distance-field.ts';
import { convergenceOrder, ORIGIN, rootMeanSquare } from './bodies.fixture.ts';
import type { ContactBody, Load } from './contact-energy.ts';
import type { Freedom, Pose } from './pose.ts';
import { type Seat, seatBody } from './seat.ts';

/** One linear layer of zero thickness, stiffness in N/mm3 as closed forms give it. */
export const foundation = (newtonPerMm3: number, thicknessMm = 0): LayerStack =>
  stackLayers([{ name: 'foundation', thicknessMm, stiffnessKPaPerMm: 1000 * newtonPerMm3 }]);

/** Seats with given freedoms from a pose that presses `sinkMm` in. */
export function press(
  body: ContactBody,
  field: DistanceField,
  k: number,
  loads: readonly Load[],
  free: readonly Freedom[] = ['z'],
  start: Partial<Pose> = { zMm: -0.5 },
): Seat {
  return seatBody(body, field, foundation(k), loads, { ...ORIGIN, ...start }, { free, tolerance: 1e-10 });
}

export interface Study {
  /** Root mean square of the relative error at each level. */
  readonly errors: readonly number[];
  readonly order: number;
  /** At the finest level. */
  readonly finest: number;
}

/** Neighbouring grids averaged at each level: where an edge falls within a cell makes single grids jump about. */
const NEIGHBOURS = [0, 1, 2, 3, 5];

/** Relative errors of one figure over grids of n cells across, n doubling, and their order in the cell size. */
export function refine(levels: readonly number[], relativeError: (n: number) => number): Study {
  const errors = levels.map((n) => rootMeanSquare(NEIGHBOURS.map((more) => relativeError(n + more))));
  const sizes = levels.map((n) => 1 / (n + 2.2));
  return { errors, order: convergenceOrder(sizes, errors), finest: errors[errors.length - 1] };
}
