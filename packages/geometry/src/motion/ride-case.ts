import { type BackSurface, moveBlades } from '../back/index.ts';
import { bearingY, type Tree, treeLengthMm } from '../bar/index.ts';
import { type Fit, type FitOptions, fitTree } from '../findings/index.ts';
import type { Setup } from '../seating/index.ts';
import { holdPosture } from './posture.ts';
import type { RidingCase } from './riding-schema.ts';

const GRAVITY = 9.80665;
/** The girth straps meet the bars' outer sides about here, mm. */
const RIGGING_Y_MM = 180;
const RIGGING_Z_MM = -60;

/** A tree ridden in one way: the setup and the back that it comes to, and the fit there. */
export interface RiddenCase {
  readonly case: RidingCase;
  readonly setup: Setup;
  readonly fit: Fit;
}

/** Gives the back of a case; see createCaseBacks. */
export type CaseBacks = (riding: RidingCase) => BackSurface;

/** Settles the tree under one case of riding, on the back in that case's posture, whatever the setup's own legs are. */
export function rideCase(
  tree: Tree,
  backs: CaseBacks,
  setup: Setup,
  riding: RidingCase,
  options: FitOptions = { detail: 'figures' },
): RiddenCase {
  const ridden = setupOfCase(tree, setup, riding);
  return { case: riding, setup: ridden, fit: fitTree(tree, backs(riding), ridden, options) };
}

/** The back as it stood, in the posture and with the legs of any case; each made once. */
export function createCaseBacks(standing: BackSurface): CaseBacks {
  const known = new Map<string, BackSurface>();
  return (riding) => {
    const { archMm, flattenPercent, widenMm, flatterDeg, legForward } = riding;
    const key = JSON.stringify([archMm, flattenPercent, widenMm, flatterDeg, legForward]);
    const found = known.get(key) ?? backOfCase(standing, riding);
    known.set(key, found);
    return found;
  };
}

/** The back as the case has it. */
export function backOfCase(standing: BackSurface, riding: RidingCase): BackSurface {
  const { legForward } = riding;
  const { swingMm } = standing.blades;
  const held = holdPosture(standing, riding);
  return moveBlades(held, {
    leftMm: legForward === 'left' || legForward === 'both' ? swingMm : 0,
    rightMm: legForward === 'right' || legForward === 'both' ? swingMm : 0,
  });
}

/** The setup with the case's loads: weight in the seat or in the stirrups, slope, girth. */
export function setupOfCase(tree: Tree, setup: Setup, riding: RidingCase): Setup {
  const { load } = setup;
  const inSeat = riding.weightIn === 'seat';
  const own = load.at === 'seat' ? (100 * tree.parts.seatLowMm) / treeLengthMm(tree) : load.at;
  const at = inSeat ? own : stirrupPercent(tree);
  const side = riding.weightIn === 'left stirrup' ? 'left' : riding.weightIn === 'right stirrup' ? 'right' : null;
  return {
    ...setup,
    name: `${setup.name}, ${riding.name}`.slice(0, 200),
    legForward: riding.legForward,
    load: {
      ...load,
      factor: riding.factor,
      at: Math.min(100, Math.max(0, at + riding.backPercent)),
      offsetMm: load.offsetMm + riding.offsetMm,
      heightMm: riding.heightMm ?? (inSeat ? load.heightMm : 0),
      riseDeg: riding.riseDeg,
      ...(side === null ? {} : { riderKg: 0, factor: 1 }),
      pulls: [
        ...load.pulls,
        ...(side === null ? [] : [oneStirrup(tree, side, load.riderKg * riding.factor * GRAVITY)]),
        ...girth(riding),
      ],
    },
  };
}

const stirrupPercent = (tree: Tree): number => (100 * tree.parts.stirrupHangMm) / treeLengthMm(tree);

/** The rider's whole weight on the leather of one side, hung where the pattern says. */
function oneStirrup(tree: Tree, side: 'left' | 'right', downN: number): Setup['load']['pulls'][number] {
  const outward = bearingY(tree, side, tree.parts.stirrupHangMm);
  return {
    name: `${side} stirrup`,
    at: stirrupPercent(tree),
    offsetMm: side === 'left' ? -outward : outward,
    heightMm: 0,
    rearN: 0,
    rightN: 0,
    downN,
  };
}

function girth({ girthN, girthAtPercent }: RidingCase): Setup['load']['pulls'] {
  if (girthN === 0) return [];
  const strap = { at: girthAtPercent, heightMm: RIGGING_Z_MM, rearN: 0, rightN: 0, downN: girthN };
  return [
    { ...strap, name: 'girth left', offsetMm: -RIGGING_Y_MM },
    { ...strap, name: 'girth right', offsetMm: RIGGING_Y_MM },
  ];
}
