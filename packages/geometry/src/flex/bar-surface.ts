import { createHeightJet, type Underside } from '../bar/index.ts';
import type { ShellSurface } from './shell-surface.ts';

/**
 * A bar's underside, before its edges are relieved, as a shell's reference surface: in the bar frame with y outward (the
 * right bar's own; the left bar is its mirror image). tau = (y - middle) / half width of the tapered plan; rounded tip
 * corners lie outside the material.
 */
export function barSurface(bar: Underside): ShellSurface {
  const z = createHeightJet();
  return {
    lengthMm: bar.shape.lengthMm,
    at(b, tau, out) {
      const row = bar.row(b);
      const [m, m1, m2] = row.middleY;
      const [h, h1, h2] = row.halfWidthY;
      const [y, yb, ybb] = [m + tau * h, m1 + tau * h1, m2 + tau * h2];
      bar.heightJet(row, y, z, true);
      z.z += row.flare[0];
      z.zb += row.flare[1];
      z.zbb += row.flare[2];
      out.r.set([b - bar.shape.rockLowPointMm, y, z.z]);
      out.rb.set([1, yb, z.zb + z.zy * yb]);
      out.rt.set([0, h, z.zy * h]);
      out.rbb.set([0, ybb, z.zbb + 2 * z.zby * yb + z.zyy * yb * yb + z.zy * ybb]);
      out.rbt.set([0, h1, (z.zby + z.zyy * yb) * h + z.zy * h1]);
      out.rtt.set([0, 0, z.zyy * h * h]);
      out.inside = Math.abs(tau) * h <= row.outlineHalfWidthY;
      return out;
    },
  };
}
