import type { SectionHeight } from './section-height.ts';
import { createSurfaceJet, type SurfaceJet } from './surface-jet.ts';

/** Spacing of the net, mm. */
const NET_MM = 10;
/** A net may miss the sharpest place between its nodes. */
const CAUTION = 0.8;

/** Towards which side of the surface: + away from the horse. */
export type Away = 1 | -1;
type Point = readonly [x: number, y: number, z: number];

/** A back of a formula on a net over its data: how high it lies and how sharply it bends. Horse frame, mm. */
export interface SectionNet {
  /**
   * True where nothing bends towards that side more tightly than a ball of the radius, within the radius of the place. A foot
   * that near is then the only one: a ball that touched at two places would have to dip into a tighter bend between them.
   */
  isGentle(xMm: number, yMm: number, radiusMm: number, away: Away): boolean;
  /** Nodes nearer to a point than their neighbours, as far as a foot within the radius could lie by them: [x, y] each. */
  nearNodes(of: Point, radiusMm: number): (readonly [number, number])[];
}

export function createSectionNet(h: SectionHeight): SectionNet {
  const columns = Math.floor((h.toXMm - h.fromXMm) / NET_MM) + 1;
  const half = Math.floor(h.edgeYMm / NET_MM);
  const rows = 2 * half + 1;
  const net: Net = {
    ...{ columns, rows, half, fromXMm: h.fromXMm },
    z: new Float64Array(columns * rows),
    hollow: new Float64Array(columns * rows),
    bulging: new Float64Array(columns * rows),
  };
  const jet = createSurfaceJet();
  for (let i = 0; i < columns; i++)
    for (let j = 0; j < rows; j++) keep(h.jet(h.fromXMm + i * NET_MM, (j - half) * NET_MM, jet), net, i * rows + j);
  return {
    isGentle(xMm, yMm, radiusMm, away) {
      const bends = away > 0 ? net.hollow : net.bulging;
      const most = CAUTION / radiusMm;
      const { i0, i1, j0, j1 } = windowOf(net, xMm, yMm, radiusMm);
      for (let i = i0; i <= i1; i++)
        for (let k = i * rows + j0; k <= i * rows + j1; k++) if (bends[k]! > most) return false;
      return true;
    },
    nearNodes: (of, radiusMm) => nearNodes(net, of, radiusMm),
  };
}

interface Net {
  readonly columns: number;
  readonly rows: number;
  readonly half: number;
  readonly fromXMm: number;
  readonly z: Float64Array;
  /** Principal curvature towards the side away from the horse, and towards the horse, 1/mm. */
  readonly hollow: Float64Array;
  readonly bulging: Float64Array;
}

function windowOf({ columns, rows, half, fromXMm }: Net, xMm: number, yMm: number, radiusMm: number) {
  const [i0, i1] = within((xMm - fromXMm) / NET_MM, radiusMm / NET_MM, columns);
  const [j0, j1] = within(yMm / NET_MM + half, radiusMm / NET_MM, rows);
  return { i0, i1, j0, j1 };
}

const within = (at: number, reach: number, count: number): readonly [number, number] => [
  Math.max(0, Math.floor(at - reach)),
  Math.min(count - 1, Math.ceil(at + reach)),
];

function nearNodes(net: Net, of: Point, radiusMm: number): (readonly [number, number])[] {
  const { i0, i1, j0, j1 } = windowOf(net, of[0], of[1], radiusMm);
  const squared = (i: number, j: number): number =>
    i < i0 || i > i1 || j < j0 || j > j1
      ? Number.POSITIVE_INFINITY
      : (net.fromXMm + i * NET_MM - of[0]) ** 2 +
        ((j - net.half) * NET_MM - of[1]) ** 2 +
        (net.z[i * net.rows + j]! - of[2]) ** 2;
  const most = (radiusMm + NET_MM) ** 2;
  const found: (readonly [number, number])[] = [];
  for (let i = i0; i <= i1; i++) {
    for (let j = j0; j <= j1; j++) {
      const own = squared(i, j);
      const isLeast =
        own < most && own <= Math.min(squared(i - 1, j), squared(i + 1, j), squared(i, j - 1), squared(i, j + 1));
      if (isLeast) found.push([net.fromXMm + i * NET_MM, (j - net.half) * NET_MM]);
    }
  }
  return found;
}

/** Height and principal curvatures of a height field, these from mean and Gaussian curvature. */
function keep({ z, zx, zy, zxx, zxy, zyy }: SurfaceJet, net: Net, at: number): void {
  const g = 1 + zx * zx + zy * zy;
  const mean = ((1 + zx * zx) * zyy - 2 * zx * zy * zxy + (1 + zy * zy) * zxx) / (2 * g * Math.sqrt(g));
  const gauss = (zxx * zyy - zxy * zxy) / (g * g);
  const root = Math.sqrt(Math.max(0, mean * mean - gauss));
  net.z[at] = z;
  net.hollow[at] = mean + root;
  net.bulging[at] = root - mean;
}
