import type { Tree } from './tree.ts';
import type { HeightJet, Underside } from './underside.ts';

/** Height added along z over (b, t), t = (y - middle) / half width of the tapered plan, with first and second derivatives. mm */
export interface LiftJet {
  v: number;
  vb: number;
  vt: number;
  vbb: number;
  vbt: number;
  vtt: number;
}

export interface UndersideLift {
  /** true: part of the shape that is measured (a bent bar); false: left out with flare and relief (a shim). */
  readonly measured: boolean;
  fill(bMm: number, t: number, out: LiftJet): LiftJet;
}

export const createLiftJet = (): LiftJet => ({ v: 0, vb: 0, vt: 0, vbb: 0, vbt: 0, vtt: 0 });

/** The same bar with a height added to its underside; everything else of it is kept. */
export function liftUnderside(bar: Underside, lift: UndersideLift): Underside {
  const own = createLiftJet();
  return {
    ...bar,
    asMade: bar.asMade ?? bar,
    heightJet(row, yMm, out, bare = false) {
      bar.heightJet(row, yMm, out, bare);
      if (bare && !lift.measured) return out;
      const [m, m1, m2] = row.middleY;
      const [h, h1, h2] = row.halfWidthY;
      const t = (yMm - m) / h;
      const tb = -(m1 + t * h1) / h;
      const tbb = -(m2 + 2 * tb * h1 + t * h2) / h;
      addLift(lift.fill(row.bMm, t, own), tb, tbb, 1 / h, -h1 / (h * h), out);
      return out;
    },
  };
}

/** The chain rule for t(b, y), linear in y. */
function addLift(l: LiftJet, tb: number, tbb: number, ty: number, tby: number, out: HeightJet): void {
  out.z += l.v;
  out.zb += l.vb + l.vt * tb;
  out.zy += l.vt * ty;
  out.zbb += l.vbb + 2 * l.vbt * tb + l.vtt * tb * tb + l.vt * tbb;
  out.zby += l.vbt * ty + l.vtt * tb * ty + l.vt * tby;
  out.zyy += l.vtt * ty * ty;
}

/** Both bars of a tree lifted. */
export function liftTree(tree: Tree, lift: Readonly<Record<'left' | 'right', UndersideLift>>): Tree {
  return { ...tree, left: liftUnderside(tree.left, lift.left), right: liftUnderside(tree.right, lift.right) };
}
