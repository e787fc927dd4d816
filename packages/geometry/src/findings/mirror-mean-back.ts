import { type BackSurface, viewOn } from '../back/index.ts';
import { createFootRows, type DistanceField, type FootRows, type Side } from '../spatial/index.ts';

/** The back made even-sided: every answer is the mean of a point's and its mirror point's. For asking what asymmetry does. */
export function mirrorMeanBack(back: BackSurface): BackSurface {
  const l = back.landmarks;
  const edgeX = (l.bladeEdgeLeft[0] + l.bladeEdgeRight[0]) / 2;
  const edgeY = (l.bladeEdgeRight[1] - l.bladeEdgeLeft[1]) / 2;
  const edgeZ = (l.bladeEdgeLeft[2] + l.bladeEdgeRight[2]) / 2;
  let exact: DistanceField | null = null;
  return viewOn(back, {
    get exact(): DistanceField {
      exact ??= mirrorMeanField(back.exact);
      return exact;
    },
    fast: mirrorMeanField(back.fast),
    landmarks: { ...l, bladeEdgeLeft: [edgeX, -edgeY, edgeZ], bladeEdgeRight: [edgeX, edgeY, edgeZ] },
    heightMm: (x, y) => (back.heightMm(x, y) + back.heightMm(x, -y)) / 2,
    lifted: (lift) => mirrorMeanBack(back.lifted(lift)),
  });
}

/** Mean of d(p) and d(mirror p); gradient and Hessian are the means of theirs, so the contact energy stays exact. */
export function mirrorMeanField(field: DistanceField): DistanceField {
  return {
    smooth: field.smooth,
    evaluate(pointsMm, from, to, side, out, wantHessian) {
      const n = to - from;
      const mirrored = new Float64Array(3 * n);
      for (let i = 0; i < n; i++) {
        const at = 3 * (from + i);
        mirrored[3 * i] = pointsMm[at]!;
        mirrored[3 * i + 1] = -pointsMm[at + 1]!;
        mirrored[3 * i + 2] = pointsMm[at + 2]!;
      }
      const other = createFootRows(n);
      const opposite: Side = side === 'left' ? 'right' : 'left';
      field.evaluate(mirrored, 0, n, opposite, other, wantHessian);
      field.evaluate(pointsMm, from, to, side, out, wantHessian);
      for (let i = 0; i < n; i++) addMirror(out, from + i, other, i, wantHessian);
    },
  };
}

/** Signs of the rows xx xy xz yy yz zz under y -> -y. */
const HESSIAN_SIGNS = [1, -1, 1, 1, -1, 1];

function addMirror(out: FootRows, i: number, other: FootRows, k: number, wantHessian: boolean): void {
  if (other.hasData[k] === 0) out.hasData[i] = 0;
  if (out.hasData[i] === 0) return;
  out.distanceMm[i] = (out.distanceMm[i]! + other.distanceMm[k]!) / 2;
  for (let a = 0; a < 3; a++) {
    const sign = a === 1 ? -1 : 1;
    out.normal[3 * i + a] = (out.normal[3 * i + a]! + sign * other.normal[3 * k + a]!) / 2;
    out.footMm[3 * i + a] = (out.footMm[3 * i + a]! + sign * other.footMm[3 * k + a]!) / 2;
  }
  if (!wantHessian) return;
  for (let a = 0; a < 6; a++) {
    out.hessian[6 * i + a] = (out.hessian[6 * i + a]! + HESSIAN_SIGNS[a]! * other.hessian[6 * k + a]!) / 2;
  }
}
