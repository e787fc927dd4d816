import { createSurfaceJet, type Lift } from '../back/index.ts';
import type { Tree, Underside } from '../bar/index.ts';

/**
 * The tree as a back with this lift would meet it: what the back gains is taken off the undersides, in the set position
 * at zero pose. Right to first order in the lift (it stays small against the back's radii), and a thousand times cheaper
 * than another back: for asking "what if the back were a little different" many hundred times.
 */
export function treeAgainst(tree: Tree, lift: Lift, setPositionMm: number): Tree {
  return {
    ...tree,
    left: undersideAgainst(tree.left, lift, setPositionMm, -1),
    right: undersideAgainst(tree.right, lift, setPositionMm, 1),
  };
}

function undersideAgainst(bar: Underside, lift: Lift, setPositionMm: number, sign: 1 | -1): Underside {
  const more = createSurfaceJet();
  return {
    shape: bar.shape,
    asMade: bar.asMade ?? bar,
    row: (bMm) => bar.row(bMm),
    heightJet(row, yMm, out, bare) {
      bar.heightJet(row, yMm, out, bare);
      const xMm = setPositionMm + row.bMm;
      if (xMm < lift.fromXMm || xMm > lift.toXMm) return out;
      lift.jet(xMm, sign * yMm, more);
      out.z -= more.z;
      out.zb -= more.zx;
      out.zbb -= more.zxx;
      out.zy -= sign * more.zy;
      out.zby -= sign * more.zxy;
      out.zyy -= more.zyy;
      return out;
    },
  };
}
