import { InputError } from '../numeric/index.ts';
import { DisjointSets } from '../surface/disjoint-sets.ts';
import { meshBounds, type TriangleMesh } from '../surface/index.ts';

/** The underside faces of one bar: x rearward, y outward, z up, mm. Corners by face, nine numbers each. */
export interface UndersideFaces {
  readonly corners: Float64Array;
  readonly fromXMm: number;
  readonly toXMm: number;
}

export interface FoundFaces {
  readonly left: UndersideFaces | null;
  readonly right: UndersideFaces | null;
  readonly remarks: readonly string[];
}

/** A face looks towards the horse when its normal points down by more than this, so that upright walls never count. */
const LEAST_DOWN = 0.05;
/** Furthest that an underside face's crosswise direction may lie from the bar's main one there: walls square to it are left out. */
const CONE_RAD = (80 * Math.PI) / 180;
/** The same for faces that count in finding the main direction. */
const MAIN_CONE_RAD = (60 * Math.PI) / 180;
/** Slices along the mesh that have a main direction each, because bars are twisted. */
const SLICES = 16;
/** Parts of an underside smaller than this share of the largest part on their side are left out. */
const LEAST_PART = 0.1;
/** A part reaching further than this over the midplane joins the bars, mm. */
const MIDPLANE_SLACK_MM = 5;

interface Part {
  faces: number[];
  areaMm2: number;
  lowY: number;
  highY: number;
}

/**
 * Picks the faces of the bars' undersides out of a cleaned mesh in bar axes with y = 0 on the midplane, and splits them into left
 * and right by connected parts.
 * @throws InputError 'degenerate' when no face looks towards the horse, 'inconsistent' when a part crosses the midplane
 */
export function findUndersideFaces(mesh: TriangleMesh): FoundFaces {
  const { down, wallAreaMm2 } = facesLookingDown(mesh);
  if (down.length === 0) refuseNoUnderside();
  const parts = connectedParts(mesh, down);
  const remarks = remarkWalls(wallAreaMm2);
  refuseAcross(parts);
  const sides = { left: pickSide(parts, -1, remarks), right: pickSide(parts, 1, remarks) };
  return { left: toFaces(mesh, sides.left, -1), right: toFaces(mesh, sides.right, 1), remarks };
}

/** Normal of face f times twice its area. */
function normalOf({ positions: p, triangles: t }: TriangleMesh, f: number): [number, number, number] {
  const [a, b, c] = [3 * t[3 * f], 3 * t[3 * f + 1], 3 * t[3 * f + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}

const middle = ({ positions: p, triangles: t }: TriangleMesh, f: number, axis: 0 | 1): number =>
  (p[3 * t[3 * f] + axis] + p[3 * t[3 * f + 1] + axis] + p[3 * t[3 * f + 2] + axis]) / 3;

interface Candidate {
  readonly face: number;
  /** Crosswise direction: angle of the normal from straight down, + towards the midplane. */
  readonly tiltRad: number;
  /** Twice the face's area, mm2. */
  readonly area: number;
  readonly slice: number;
}

/** Faces that look down within the cone around the main crosswise direction of their slice of their side. */
function facesLookingDown(mesh: TriangleMesh): { down: number[]; wallAreaMm2: number } {
  const candidates = listCandidates(mesh);
  const main = new Map<number, number>();
  for (const slices of [1, SLICES]) {
    const keyOf = (c: Candidate): number => (slices === 1 ? Math.sign(c.slice) : c.slice);
    for (let round = 0; round < 4; round++) {
      const sums = new Map<number, [number, number]>();
      for (const c of candidates) {
        const near = main.get(keyOf(c)) ?? main.get(Math.sign(c.slice));
        if (near !== undefined && Math.abs(c.tiltRad - near) > MAIN_CONE_RAD) continue;
        const sum = sums.get(keyOf(c)) ?? [0, 0];
        sums.set(keyOf(c), [sum[0] + c.area * Math.sin(c.tiltRad), sum[1] + c.area * Math.cos(c.tiltRad)]);
      }
      for (const [key, [sine, cosine]] of sums) main.set(key, Math.atan2(sine, cosine));
    }
  }
  const mainOf = (c: Candidate): number => main.get(c.slice) ?? main.get(Math.sign(c.slice)) ?? 0;
  const down: number[] = [];
  let wallAreaMm2 = 0;
  for (const c of candidates) {
    if (Math.abs(c.tiltRad - mainOf(c)) <= CONE_RAD) down.push(c.face);
    else wallAreaMm2 += c.area / 2;
  }
  return { down, wallAreaMm2 };
}

function remarkWalls(areaMm2: number): string[] {
  if (areaMm2 < 1) return [];
  const area = `${(areaMm2 / 100).toFixed(1)} cm2`;
  return [`${area} looking down but more than 80 degrees off the bar's section were taken for its side walls.`];
}

function listCandidates(mesh: TriangleMesh): Candidate[] {
  const { min, max } = meshBounds(mesh);
  const width = Math.max(max[0] - min[0], 1e-9) / SLICES;
  const candidates: Candidate[] = [];
  for (let face = 0; face < mesh.triangles.length / 3; face++) {
    const n = normalOf(mesh, face);
    const area = Math.hypot(...n);
    if (!(n[2] < -LEAST_DOWN * area)) continue;
    const [x, y] = [middle(mesh, face, 0), middle(mesh, face, 1)];
    const side = y >= 0 ? 1 : -1;
    // Slices count from 2, so that +1 and -1 can stand for a whole side.
    const slice = side * (2 + Math.min(SLICES - 1, Math.floor((x - min[0]) / width)));
    candidates.push({ face, tiltRad: Math.atan2(-side * n[1], -n[2]), area, slice });
  }
  return candidates;
}

function connectedParts(mesh: TriangleMesh, faces: readonly number[]): Part[] {
  const { positions: p, triangles: t } = mesh;
  const sets = new DisjointSets(p.length / 3);
  for (const f of faces) {
    for (let k = 1; k < 3; k++) sets.join(t[3 * f], t[3 * f + k]);
  }
  const parts = new Map<number, Part>();
  for (const f of faces) {
    const key = sets.find(t[3 * f]);
    let part = parts.get(key);
    if (part === undefined) {
      part = { faces: [], areaMm2: 0, lowY: Number.POSITIVE_INFINITY, highY: Number.NEGATIVE_INFINITY };
      parts.set(key, part);
    }
    part.faces.push(f);
    part.areaMm2 += Math.hypot(...normalOf(mesh, f)) / 2;
    for (let k = 0; k < 3; k++) {
      part.lowY = Math.min(part.lowY, p[3 * t[3 * f + k] + 1]);
      part.highY = Math.max(part.highY, p[3 * t[3 * f + k] + 1]);
    }
  }
  return [...parts.values()];
}

function pickSide(parts: readonly Part[], side: 1 | -1, remarks: string[]): Part[] {
  const mine = parts.filter((part) => side * (part.lowY + part.highY) > 0);
  const largest = Math.max(...mine.map((part) => part.areaMm2));
  const kept = mine.filter((part) => part.areaMm2 >= LEAST_PART * largest);
  const left = mine.length - kept.length;
  if (left > 0) {
    const share = 1 - sumArea(kept) / sumArea(mine);
    const bar = side < 0 ? 'Left' : 'Right';
    remarks.push(
      `${bar} bar: ${left} small parts looking down were left out, ${(100 * share).toFixed(2)} % of its area.`,
    );
  }
  return kept;
}

const sumArea = (parts: readonly Part[]): number => parts.reduce((sum, part) => sum + part.areaMm2, 0);

function toFaces({ positions: p, triangles: t }: TriangleMesh, parts: readonly Part[], side: 1 | -1) {
  const faces = parts.flatMap((part) => part.faces);
  if (faces.length === 0) return null;
  const corners = new Float64Array(9 * faces.length);
  let [fromXMm, toXMm] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  faces.forEach((f, i) => {
    for (let k = 0; k < 3; k++) {
      const v = 3 * t[3 * f + k];
      corners.set([p[v], side * p[v + 1], p[v + 2]], 9 * i + 3 * k);
      fromXMm = Math.min(fromXMm, p[v]);
      toXMm = Math.max(toXMm, p[v]);
    }
  });
  return { corners, fromXMm, toXMm };
}

function refuseAcross(parts: readonly Part[]): void {
  const largest = Math.max(...parts.map((part) => part.areaMm2));
  const across = parts.find(
    ({ areaMm2, lowY, highY }) =>
      areaMm2 >= LEAST_PART * largest && lowY < -MIDPLANE_SLACK_MM && highY > MIDPLANE_SLACK_MM,
  );
  if (across === undefined) return;
  throw new InputError({
    code: 'inconsistent',
    field: 'mesh',
    got: `an underside from ${across.lowY.toFixed(1)} to ${across.highY.toFixed(1)} mm of the midplane, in one piece`,
    expected: 'bars that lie on one side of the midplane each',
    remedy: 'Cut the bars free of fork and cantle, and say where the midplane is.',
  });
}

function refuseNoUnderside(): never {
  throw new InputError({
    code: 'degenerate',
    field: 'mesh',
    got: 'no face that looks down, towards the horse',
    expected: "a mesh that holds the bars' undersides, faces wound counter-clockwise seen from outside",
    remedy: 'Check which axis points up, and that the mesh is not only the top of the bars or inside out.',
  });
}
