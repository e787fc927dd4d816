import type { UndersideFaces } from './measure-mesh-faces.ts';
import type { BarSection, BarSurface } from './measure-surface.ts';

export interface MeshSurfaceOptions {
  readonly side: 'left' | 'right';
  /** x of b = 0, the front tip edge of the foremost bar, mm. */
  readonly originXMm: number;
  /** Outward distance of the bearing line, mm. */
  readonly bearingLineYMm: number;
}

const POINTS = 97;
const BUCKETS = 512;
/** The tip edge itself is no section but a line; one asked for there is taken this far behind it, mm. */
const TIP_NUDGE_MM = 1e-3;

/**
 * An imported bar as a surface to be measured. Sections are exact cuts of the faces by a plane, read off at 97 outward
 * distances; where sheets lie over each other the lowest counts.
 */
export function surfaceOfBarMesh(faces: UndersideFaces, options: MeshSurfaceOptions): BarSurface {
  const { side, originXMm, bearingLineYMm } = options;
  const facesAt = bucketFaces(faces);
  const planeAt = (bMm: number): number => {
    const x = bMm + originXMm;
    const onBar = x >= faces.fromXMm - TIP_NUDGE_MM && x <= faces.toXMm + TIP_NUDGE_MM;
    return onBar ? Math.min(Math.max(x, faces.fromXMm + TIP_NUDGE_MM), faces.toXMm - TIP_NUDGE_MM) : x;
  };
  return {
    side,
    source: 'mesh',
    fromMm: faces.fromXMm - originXMm,
    toMm: faces.toXMm - originXMm,
    bearingLine: {
      sentence: `A mesh does not say where its bearing line is: rock is measured along |y| = ${bearingLineYMm} mm.`,
      yMm: () => bearingLineYMm,
    },
    section: (bMm) => {
      const x = planeAt(bMm);
      return readOff(cut(faces, facesAt(x), x));
    },
    known: null,
  };
}

/** Faces by the slice of x that they reach into. */
function bucketFaces({ corners, fromXMm, toXMm }: UndersideFaces): (xMm: number) => readonly number[] {
  const buckets: number[][] = Array.from({ length: BUCKETS }, () => []);
  const width = Math.max(toXMm - fromXMm, 1e-9) / BUCKETS;
  const bucketOf = (x: number): number => Math.min(BUCKETS - 1, Math.max(0, Math.floor((x - fromXMm) / width)));
  for (let f = 0; f < corners.length / 9; f++) {
    const x = [corners[9 * f], corners[9 * f + 3], corners[9 * f + 6]];
    const last = bucketOf(Math.max(...x));
    for (let k = bucketOf(Math.min(...x)); k <= last; k++) buckets[k].push(f);
  }
  return (x) => (x >= fromXMm && x <= toXMm ? buckets[bucketOf(x)] : []);
}

/** Segments y0 z0 y1 z1 with y0 <= y1 in which the plane cuts the faces; a corner on the plane counts as behind it. */
function cut({ corners }: UndersideFaces, faces: readonly number[], xMm: number): number[] {
  const segments: number[] = [];
  for (const f of faces) {
    const ends: number[] = [];
    for (let k = 0; k < 3; k++) {
      const a = 9 * f + 3 * k;
      const b = 9 * f + 3 * ((k + 1) % 3);
      if (corners[a] < xMm === corners[b] < xMm) continue;
      const share = (xMm - corners[a]) / (corners[b] - corners[a]);
      ends.push(corners[a + 1] + share * (corners[b + 1] - corners[a + 1]));
      ends.push(corners[a + 2] + share * (corners[b + 2] - corners[a + 2]));
    }
    if (ends.length !== 4) continue;
    segments.push(...(ends[0] <= ends[2] ? ends : [ends[2], ends[3], ends[0], ends[1]]));
  }
  return segments;
}

function readOff(segments: readonly number[]): BarSection | null {
  let [innerYMm, outerYMm] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < segments.length; i += 4) {
    innerYMm = Math.min(innerYMm, segments[i]);
    outerYMm = Math.max(outerYMm, segments[i + 2]);
  }
  const step = (outerYMm - innerYMm) / (POINTS - 1);
  if (!(step > 0)) return null;
  const yAt = (j: number): number => (j === POINTS - 1 ? outerYMm : innerYMm + j * step);
  const lowest = new Float64Array(POINTS).fill(Number.POSITIVE_INFINITY);
  for (let i = 0; i < segments.length; i += 4) {
    const [y0, z0, y1, z1] = [segments[i], segments[i + 1], segments[i + 2], segments[i + 3]];
    const first = Math.max(0, Math.floor((y0 - innerYMm) / step));
    const last = Math.min(POINTS - 1, Math.ceil((y1 - innerYMm) / step));
    for (let j = first; j <= last; j++) {
      const y = yAt(j);
      if (y < y0 || y > y1) continue;
      const z = y1 > y0 ? z0 + ((y - y0) / (y1 - y0)) * (z1 - z0) : Math.min(z0, z1);
      lowest[j] = Math.min(lowest[j], z);
    }
  }
  const covered = Array.from(lowest.keys()).filter((j) => lowest[j] < Number.POSITIVE_INFINITY);
  return {
    innerYMm,
    outerYMm,
    yMm: Float64Array.from(covered, yAt),
    zMm: Float64Array.from(covered, (j) => lowest[j]),
  };
}
