import { type Tree, treeLengthMm } from '../bar/index.ts';
import type { Load } from './contact-energy.ts';
import type { Setup } from './setup-schema.ts';

const GRAVITY = 9.80665;
const RADIANS = Math.PI / 180;

/** Rider and saddle times the gait factor, N. */
export function loadNewtons(setup: Setup): number {
  return (setup.load.riderKg + setup.load.saddleKg) * setup.load.factor * GRAVITY;
}

/** Where the weight acts, in the bar frame, mm. */
export function loadPoint(tree: Tree, setup: Setup): [number, number, number] {
  const { at, offsetMm, heightMm } = setup.load;
  return barPoint(tree, at === 'seat' ? (100 * tree.parts.seatLowMm) / treeLengthMm(tree) : at, offsetMm, heightMm);
}

/**
 * All dead forces of a setup: the weight first, then its pulls (girth, one stirrup, a hand). On a slope the horse's own
 * axes lean, so the weight leans in them: uphill it draws the saddle rearward by its sine. Horse frame, N.
 */
export function loadsOf(tree: Tree, setup: Setup): Load[] {
  const weight = loadNewtons(setup);
  const rise = setup.load.riseDeg * RADIANS;
  return [
    {
      pointMm: loadPoint(tree, setup),
      forceN: rise === 0 ? [0, 0, -weight] : [weight * Math.sin(rise), 0, -weight * Math.cos(rise)],
    },
    ...setup.load.pulls.map(({ at, offsetMm, heightMm, rearN, rightN, downN }): Load => {
      return { pointMm: barPoint(tree, at, offsetMm, heightMm), forceN: [rearN, rightN, -downN] };
    }),
  ];
}

/** What the back has to carry, N: all forces' downward parts. */
export const downwardNewtons = (loads: readonly Load[]): number =>
  loads.reduce((sum, { forceN }) => sum - forceN[2], 0);

function barPoint(tree: Tree, percent: number, offsetMm: number, heightMm: number): [number, number, number] {
  return [(percent / 100) * treeLengthMm(tree) - tree.right.shape.rockLowPointMm, offsetMm, heightMm];
}
