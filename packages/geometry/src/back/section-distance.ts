import type { DistanceField, FootRows, Side } from '../spatial/distance-field.ts';
import type { SectionHeight } from './section-height.ts';
import { createSectionNet, type SectionNet } from './section-net.ts';
import { createSurfaceJet, type SurfaceJet } from './surface-jet.ts';

/** Foot found when it moves less than this between steps, mm. */
const FOOT_TOLERANCE_MM = 1e-10;
const MOST_STEPS = 60;

/**
 * Exact signed distance to a back given by a formula: the foot is converged by damped Newton on the squared distance, from
 * the foot of a row near by, else from straight below. Where nothing near bends as tightly as the point is far, that foot is
 * the only one; elsewhere the search starts again from every node of a net that is nearer than its neighbours, and the
 * nearest foot wins. Feet on the border of the data are "no data".
 */
export function createSectionDistance(height: SectionHeight): DistanceField {
  const search: Search = { height, jet: createSurfaceJet(), net: null };
  return {
    smooth: true,
    evaluate(points, from, to, _side: Side, out: FootRows, wantHessian, hints = {}) {
      for (let i = from; i < to; i++) {
        const isNear = hints.nearRows === true && out.hasData[i] === 1;
        const start = isNear ? out.footMm.subarray(3 * i, 3 * i + 2) : points.subarray(3 * i, 3 * i + 2);
        const foot = nearestFoot(search, [points[3 * i]!, points[3 * i + 1]!, points[3 * i + 2]!], start);
        out.hasData[i] = foot === null ? 0 : 1;
        if (foot !== null) writeRow(search, points, i, foot, out, wantHessian);
      }
    },
  };
}

type Point = readonly [x: number, y: number, z: number];

interface Foot {
  readonly x: number;
  readonly y: number;
  readonly squared: number;
}

/** What one search after another uses. */
interface Search {
  readonly height: SectionHeight;
  readonly jet: SurfaceJet;
  /** Made when it is first asked for. */
  net: SectionNet | null;
}

/** How far about a point the net is looked at where the first start finds nothing, mm. */
const LOST_MM = 120;

/** Nearest of the stationary points reached from the starts; null where the nearest lies on the border of the data. */
function nearestFoot(of: Search, point: Point, start: Float64Array): Foot | null {
  const { height, jet } = of;
  of.net ??= createSectionNet(height);
  const [x, y] = [start[0]!, start[1]!];
  let best = inside(height, x, y) ? descend(height, ...point, x, y, jet) : null;
  if (best !== null && isOnly(of, of.net, point, best)) return best;
  for (const [nx, ny] of of.net.nearNodes(point, best === null ? LOST_MM : Math.sqrt(best.squared))) {
    const foot = descend(height, ...point, nx, ny, jet);
    if (foot !== null && (best === null || foot.squared < best.squared - 1e-12)) best = foot;
  }
  return best;
}

/** Whether no other place of the surface can be as near. */
function isOnly({ height, jet }: Search, net: SectionNet, point: Point, foot: Foot): boolean {
  const away = point[2] >= height.jet(foot.x, foot.y, jet).z ? 1 : -1;
  return net.isGentle(point[0], point[1], Math.sqrt(foot.squared), away);
}

const inside = (h: SectionHeight, x: number, y: number): boolean =>
  x >= h.fromXMm && x <= h.toXMm && Math.abs(y) <= h.edgeYMm;

/** Newton on half the squared distance, its Hessian kept positive, steps halved until the distance falls. */
function descend(
  h: SectionHeight,
  px: number,
  py: number,
  pz: number,
  x0: number,
  y0: number,
  jet: SurfaceJet,
): Foot | null {
  let x = x0;
  let y = y0;
  let value = squaredTo(h, px, py, pz, x, y, jet);
  for (let step = 0; step < MOST_STEPS; step++) {
    const r = jet.z - pz;
    const gx = x - px + r * jet.zx;
    const gy = y - py + r * jet.zy;
    let hxx = 1 + jet.zx * jet.zx + r * jet.zxx;
    let hxy = jet.zx * jet.zy + r * jet.zxy;
    let hyy = 1 + jet.zy * jet.zy + r * jet.zyy;
    if (hxx * hyy - hxy * hxy < 1e-3 * (hxx + hyy) ** 2 || hxx <= 0) {
      hxx = 1 + jet.zx * jet.zx;
      hxy = jet.zx * jet.zy;
      hyy = 1 + jet.zy * jet.zy;
    }
    const det = hxx * hyy - hxy * hxy;
    let dx = (-gx * hyy + gy * hxy) / det;
    let dy = (gx * hxy - gy * hxx) / det;
    const length = Math.hypot(dx, dy);
    if (length < FOOT_TOLERANCE_MM) return { x, y, squared: value };
    let halvings = 0;
    for (; halvings < 40; halvings++, dx /= 2, dy /= 2) {
      if (!inside(h, x + dx, y + dy)) continue;
      const next = squaredTo(h, px, py, pz, x + dx, y + dy, jet);
      if (next <= value) {
        value = next;
        break;
      }
    }
    if (halvings === 40) {
      squaredTo(h, px, py, pz, x, y, jet);
      return length < 1e-6 ? { x, y, squared: value } : null;
    }
    x += dx;
    y += dy;
  }
  return { x, y, squared: value };
}

function squaredTo(
  h: SectionHeight,
  px: number,
  py: number,
  pz: number,
  x: number,
  y: number,
  jet: SurfaceJet,
): number {
  h.jet(x, y, jet);
  return (x - px) ** 2 + (y - py) ** 2 + (jet.z - pz) ** 2;
}

function writeRow(
  { height, jet }: Search,
  points: Float64Array,
  i: number,
  foot: Foot,
  out: FootRows,
  wantHessian: boolean,
): void {
  height.jet(foot.x, foot.y, jet);
  const g = Math.sqrt(1 + jet.zx * jet.zx + jet.zy * jet.zy);
  const nx = -jet.zx / g;
  const ny = -jet.zy / g;
  const nz = 1 / g;
  const d = (points[3 * i]! - foot.x) * nx + (points[3 * i + 1]! - foot.y) * ny + (points[3 * i + 2]! - jet.z) * nz;
  out.distanceMm[i] = d;
  out.footMm[3 * i] = foot.x;
  out.footMm[3 * i + 1] = foot.y;
  out.footMm[3 * i + 2] = jet.z;
  out.normal[3 * i] = nx;
  out.normal[3 * i + 1] = ny;
  out.normal[3 * i + 2] = nz;
  if (wantHessian) writeDistanceHessian(jet, d, out.hessian, 6 * i);
}

/**
 * H = A S (1 + d S)^-1 I^-1 A^T with tangents A = (1,0,zx), (0,1,zy), first form I, shape operator S = -I^-1 II.
 * Differential geometry of surfaces, e.g. do Carmo ch. 3, from memory. 1 + d k is kept at 0.05 or more.
 */
function writeDistanceHessian(jet: SurfaceJet, d: number, out: Float64Array, at: number): void {
  const { zx, zy } = jet;
  const e = 1 + zx * zx;
  const f = zx * zy;
  const g = 1 + zy * zy;
  const det = e * g - f * f;
  const root = Math.sqrt(det);
  const l = -jet.zxx / root;
  const m = -jet.zxy / root;
  const n = -jet.zyy / root;
  const s11 = (g * l - f * m) / det;
  const s12 = (g * m - f * n) / det;
  const s21 = (e * m - f * l) / det;
  const s22 = (e * n - f * m) / det;
  const q = Math.max(0.0025, (1 + d * s11) * (1 + d * s22) - d * d * s12 * s21);
  const t11 = (s11 + d * (s11 * s22 - s12 * s21)) / q;
  const t22 = (s22 + d * (s11 * s22 - s12 * s21)) / q;
  const t12 = s12 / q;
  const t21 = s21 / q;
  const m11 = (t11 * g - t12 * f) / det;
  const m12 = (-t11 * f + t12 * e) / det;
  const m21 = (t21 * g - t22 * f) / det;
  const m22 = (-t21 * f + t22 * e) / det;
  const cross = (m12 + m21) / 2;
  out[at] = m11;
  out[at + 1] = cross;
  out[at + 2] = m11 * zx + cross * zy;
  out[at + 3] = m22;
  out[at + 4] = cross * zx + m22 * zy;
  out[at + 5] = m11 * zx * zx + 2 * cross * zx * zy + m22 * zy * zy;
}
