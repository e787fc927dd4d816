import type { Landmarks, Vec3 } from './back-surface.ts';
import { turnPoint } from './scan-axes.ts';
import { findScanFrame, type ScanFrame } from './scan-frame.ts';
import { type GivenLandmarks, type LandmarkName, PROPOSAL_DEFAULTS } from './scan-landmarks.ts';
import type { SurfaceJet } from './surface-jet.ts';
import type { TracingUnit } from './tracings-curves.ts';
import { turnOf } from './tracings-curves.ts';
import { refuseFarLandmarks } from './tracings-extent.ts';
import type { Loft } from './tracings-loft.ts';
import type { TracingsBackDocument } from './tracings-schema.ts';

const TOPLINE_STEP_MM = 5;
/** The top of the withers is looked for ahead of this share of the traced length. */
const WITHERS_SHARE = 0.4;

/**
 * Horse frame of DESIGN 1 for a loft. What isn't marked is proposed: topline points on the tracings' own midline (y = 0),
 * blade edges at x = 0 where the stations were measured from there.
 * @throws InputError as findScanFrame, 'out-of-range' for a landmark far off the tracings
 */
export function tracingsFrame(doc: TracingsBackDocument, unit: TracingUnit, loft: Loft, bearingYMm: number): ScanFrame {
  const turn = turnOf(doc, unit);
  const marked: GivenLandmarks = Object.fromEntries(
    Object.entries(doc.landmarks ?? {}).flatMap(([name, p]) => (p === undefined ? [] : [[name, turnPoint(turn, p)]])),
  );
  refuseFarLandmarks(marked, loft);
  const heightAt = (x: number, y: number): number => loft.row(x)(y);
  const filled: GivenLandmarks = { ...proposeTopline(loft, marked), ...marked };
  const stationed = doc.curves.some(
    (c) => c.kind === 'cross' && (c.points[0]!.length === 2 || typeof c.stationMm === 'number'),
  );
  if (stationed && marked.bladeEdgeLeft === undefined && marked.bladeEdgeRight === undefined) {
    const edge = (y: number): Vec3 => {
      const z = heightAt(Math.min(loft.toXMm, Math.max(loft.fromXMm, 0)), y);
      return [0, y, Number.isNaN(z) ? filled.withersTop![2] : z];
    };
    filled.bladeEdgeLeft = edge(-bearingYMm);
    filled.bladeEdgeRight = edge(bearingYMm);
  }
  const extent = {
    xMm: [loft.fromXMm, loft.toXMm] as const,
    yMm: [-loft.leftMm, loft.rightMm] as const,
  };
  const frame = findScanFrame(filled, heightAt, extent, bearingYMm);
  const names: LandmarkName[] = ['bladeEdgeLeft', 'bladeEdgeRight', 'withersTop', 'lowPoint', 'lastRib'];
  const proposed = names.filter((name) => marked[name] === undefined && !(stationed && name.startsWith('blade')));
  const landmarks: Landmarks = { ...frame.landmarks, proposed };
  return { ...frame, landmarks };
}

function proposeTopline(loft: Loft, marked: GivenLandmarks): { withersTop: Vec3; lastRib: Vec3 } {
  const at = (x: number): Vec3 => [x, 0, loft.row(x)(0)];
  let top = at(loft.fromXMm);
  const until = loft.fromXMm + WITHERS_SHARE * (loft.toXMm - loft.fromXMm);
  for (let x = loft.fromXMm; x <= until; x += TOPLINE_STEP_MM) {
    const here = at(x);
    if (here[2] > top[2] || Number.isNaN(top[2])) top = here;
  }
  const withers = marked.withersTop ?? top;
  const rib = withers[0] + PROPOSAL_DEFAULTS.lastRibShare * (loft.toXMm - withers[0]);
  return { withersTop: withers, lastRib: at(rib) };
}

/** The loft seen in the horse frame: derivatives turned along. */
export function turnedLoft(loft: Loft, frame: ScanFrame): Loft {
  const { cos: c, sin: s, shiftMm } = frame;
  const along = (x: number, y: number): number => c * (x - shiftMm[0]) - s * (y - shiftMm[1]);
  const across = (x: number, y: number): number => s * (x - shiftMm[0]) + c * (y - shiftMm[1]);
  const corners = [loft.fromXMm, loft.toXMm].flatMap((u) =>
    [-loft.leftMm, loft.rightMm].map((v) => [c * u + s * v + shiftMm[0], c * v - s * u + shiftMm[1]] as const),
  );
  return {
    fromXMm: Math.min(...corners.map((p) => p[0])),
    toXMm: Math.max(...corners.map((p) => p[0])),
    leftMm: Math.max(...corners.map((p) => -p[1])),
    rightMm: Math.max(...corners.map((p) => p[1])),
    contains: (x, y) => loft.contains(along(x, y), across(x, y)),
    row: (x) => {
      if (s !== 0) return (y) => loft.row(along(x, y))(across(x, y)) + shiftMm[2];
      const row = loft.row(along(x, 0));
      return (y) => row(across(x, y)) + shiftMm[2];
    },
    jet(x, y, out: SurfaceJet) {
      loft.jet(along(x, y), across(x, y), out);
      const { zx, zy, zxx, zxy, zyy } = out;
      out.z += shiftMm[2];
      out.zx = c * zx + s * zy;
      out.zy = c * zy - s * zx;
      out.zxx = c * c * zxx + 2 * c * s * zxy + s * s * zyy;
      out.zxy = c * s * (zyy - zxx) + (c * c - s * s) * zxy;
      out.zyy = s * s * zxx - 2 * c * s * zxy + c * c * zyy;
      return out;
    },
  };
}

/** Row-major 4x4 from the document's coordinates and unit to the horse frame in mm. */
export function tracingsToHorse(turn: readonly number[], frame: ScanFrame): number[] {
  const { cos, sin, shiftMm } = frame;
  const row = (a: number, b: number) => [0, 1, 2].map((k) => a * turn[k]! + b * turn[3 + k]!);
  const up = [turn[6]!, turn[7]!, turn[8]!];
  return [...row(cos, sin), shiftMm[0], ...row(-sin, cos), shiftMm[1], ...up, shiftMm[2], 0, 0, 0, 1];
}
