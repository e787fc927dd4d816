import { type BladeBulge, bladeAcross, bladeAlong, bladeBulgeAt } from './blade-bulge.ts';
import type { SectionHeight } from './section-height.ts';
import { addProduct, createSurfaceJet, type SurfaceJet } from './surface-jet.ts';

/** Height added to a back along z, once continuously differentiable; 0 outside its range of x. Horse frame, mm. */
export interface Lift {
  readonly fromXMm: number;
  readonly toXMm: number;
  at(xMm: number, yMm: number): number;
  /** The same along one row of constant x, where that is cheaper. */
  row?(xMm: number): (yMm: number) => number;
  /** The lift with its derivatives by x and y. */
  jet(xMm: number, yMm: number, out: SurfaceJet): SurfaceJet;
}

/** A patch of each side before and after it moved. */
export interface MovedPatch {
  readonly standing: BladeBulge;
  readonly moved: BladeBulge;
}

/** What the back gains and loses where the blades' patches move: the moved patch less the standing one. */
export function patchLift(left: MovedPatch, right: MovedPatch): Lift {
  const edges = [left, right].flatMap(({ standing, moved }) => [standing.edgeXMm, moved.edgeXMm]);
  const isSame = [left, right].every(
    (p) => p.standing.edgeXMm === p.moved.edgeXMm && p.standing.heightMm === p.moved.heightMm,
  );
  const isRaised = [left, right].some(({ standing, moved }) => standing.heightMm !== moved.heightMm);
  const jet = createSurfaceJet();
  const lift: Lift = {
    // A patch that only moves changes nothing ahead of both edges' ramps; one that grows does, up to its front.
    fromXMm: isSame ? 0 : isRaised ? Number.NEGATIVE_INFINITY : Math.min(...edges) - RAMP_MM,
    toXMm: isSame ? -1 : Math.max(...edges),
    at: (x, y) => lift.jet(x, y, jet).z,
    row(x) {
      const rise = { left: alongRise(left, x), right: alongRise(right, x) };
      return (y) => {
        const by = y < 0 ? rise.left : rise.right;
        return by === 0 ? 0 : by * bladeAcross(Math.abs(y));
      };
    },
    jet(x, y, out) {
      const { standing, moved } = y < 0 ? left : right;
      out.z = out.zx = out.zy = out.zxx = out.zxy = out.zyy = 0;
      addPatch(out, moved, x, y, 1);
      addPatch(out, standing, x, y, -1);
      return out;
    },
  };
  return lift;
}

const RAMP_MM = 40;

/** What a patch gains by its move along the row at x, before its crosswise ramps. */
const alongRise = ({ standing, moved }: MovedPatch, x: number): number =>
  bladeAlong(moved, x) - bladeAlong(standing, x);

function addPatch(out: SurfaceJet, bulge: BladeBulge, x: number, y: number, by: number): void {
  const { along, across } = bladeBulgeAt(bulge, x, Math.abs(y));
  // A patch is given by |y|: on the left its slope across runs the other way.
  addProduct(out, along, y < 0 ? [across[0], -across[1], across[2]] : across, by);
}

/** Lifts one on the other. */
export function sumOfLifts(lifts: readonly Lift[]): Lift {
  const one = createSurfaceJet();
  const within = ({ fromXMm, toXMm }: Lift, x: number): boolean => x >= fromXMm && x <= toXMm;
  return {
    fromXMm: Math.min(...lifts.map(({ fromXMm }) => fromXMm)),
    toXMm: Math.max(...lifts.map(({ toXMm }) => toXMm)),
    at: (x, y) => lifts.reduce((sum, lift) => (within(lift, x) ? sum + lift.at(x, y) : sum), 0),
    row(x) {
      const rows = lifts.filter((lift) => within(lift, x)).map((lift) => rowOf(lift, x));
      return (y) => rows.reduce((sum, row) => sum + row(y), 0);
    },
    jet(x, y, out) {
      out.z = out.zx = out.zy = out.zxx = out.zxy = out.zyy = 0;
      for (const lift of lifts) if (within(lift, x)) addJet(out, lift.jet(x, y, one));
      return out;
    },
  };
}

const rowOf = (lift: Lift, x: number): ((y: number) => number) => lift.row?.(x) ?? ((y) => lift.at(x, y));

/** A height formula with a lift added. */
export function liftHeight<Height extends Pick<SectionHeight, 'row' | 'jet'>>(height: Height, lift: Lift): Height {
  const added = createSurfaceJet();
  const reaches = (x: number): boolean => x >= lift.fromXMm && x <= lift.toXMm;
  return {
    ...height,
    row: (x: number) => {
      const row = height.row(x);
      if (!reaches(x)) return row;
      const more = rowOf(lift, x);
      return (y: number) => row(y) + more(y);
    },
    jet(x: number, y: number, out: SurfaceJet) {
      height.jet(x, y, out);
      if (reaches(x)) addJet(out, lift.jet(x, y, added));
      return out;
    },
  };
}

function addJet(out: SurfaceJet, more: SurfaceJet): void {
  out.z += more.z;
  out.zx += more.zx;
  out.zy += more.zy;
  out.zxx += more.zxx;
  out.zxy += more.zxy;
  out.zyy += more.zyy;
}
