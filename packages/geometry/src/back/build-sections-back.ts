import { InputError } from '../numeric/index.ts';
import { buildChartFromHeights, createChartField, type DistanceField, type Side } from '../spatial/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { BackSurface, Landmarks, PathAccuracy } from './back-surface.ts';
import { type BladePositions, STANDING } from './blades.ts';
import { liftHeight } from './lift.ts';
import { liftBack } from './lifted-back.ts';
import { measurePathAccuracy } from './measure-path-accuracy.ts';
import { refuseSteep } from './refuse-steep.ts';
import { createSectionDistance } from './section-distance.ts';
import { createSectionHeight, type SectionHeight } from './section-height.ts';
import type { SectionsBackDocument } from './sections-schema.ts';

const CELL_MM = 2;
/** The charts are tilted to the mean slope between these distances from the midline, mm. */
const TILT_FROM_Y_MM = 40;
const TILT_TO_Y_MM = 200;

/**
 * A back from slopes and bearing-line heights (DESIGN 3), shifted so that z = 0 at the low point of the standing back's
 * bearing line, mean of both sides. Blade positions move the raised patches only; the frame stays the standing back's.
 * @throws InputError 'inconsistent' where rows and stations do not match, or stations do not rise; 'out-of-range' where
 * slopes reach the vertical
 */
export function buildSectionsBack(doc: SectionsBackDocument, blades: BladePositions = STANDING): BackSurface {
  refuseInconsistent(doc);
  const standing = createSectionHeight(doc, { left: 0, right: 0 });
  refuseSteep(standing, [...doc.slopeYMm, doc.edgeYMm]);
  const low = bearingLowPoint(standing, doc);
  const moved = blades.leftMm === 0 && blades.rightMm === 0;
  const raw = moved ? standing : createSectionHeight(doc, { left: blades.leftMm, right: blades.rightMm });
  const height = lowered(raw, low.zMm);
  const exact = createSectionDistance(height);
  const left = chartOf(height, 'left', doc);
  const right = chartOf(height, 'right', doc);
  const fast = createChartField(left, right);
  let accuracy: PathAccuracy | null = null;
  const back: BackSurface = {
    name: doc.name,
    kind: 'sections',
    exact,
    fast,
    get fastAccuracy(): PathAccuracy {
      accuracy ??= accuracyOf(height, doc, fast, exact);
      return accuracy;
    },
    landmarks: landmarksOf(lowered(standing, low.zMm), doc, low.xMm, blades),
    measured: doc.measured,
    blades: {
      heightLeftMm: doc.bladeBulge.left.heightMm,
      heightRightMm: doc.bladeBulge.right.heightMm,
      swingMm: doc.bladeSwingMm,
      assumed: [],
    },
    warnings: [],
    fileToHorse: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, -low.zMm, 0, 0, 0, 1],
    heightMm: (x, y) => height.row(x)(y),
    lifted: (lift) =>
      liftBack(back, { left, right, exactWith: (by) => createSectionDistance(liftHeight(height, by)) }, lift),
    drawingMesh: () => meshOf(height, doc),
  };
  return back;
}

function refuseInconsistent(doc: SectionsBackDocument): void {
  const n = doc.stationsMm.length;
  const refuse = (field: string, got: string, expected: string): never => {
    throw new InputError({
      code: 'inconsistent',
      field,
      got,
      expected,
      remedy: 'Give one row for each station, in order.',
    });
  };
  if (doc.bearingHeightMm.length !== n)
    refuse('bearingHeightMm', `${doc.bearingHeightMm.length} heights`, `${n} heights`);
  if (doc.slopeDeg.length !== n) refuse('slopeDeg', `${doc.slopeDeg.length} rows`, `${n} rows, one per station`);
  doc.slopeDeg.forEach((row, i) => {
    if (row.length !== doc.slopeYMm.length)
      refuse(`slopeDeg[${i}]`, `${row.length} slopes`, `${doc.slopeYMm.length} slopes, one per distance in slopeYMm`);
  });
  const rising = (field: string, values: readonly number[]): void => {
    for (let i = 1; i < values.length; i++)
      if (!(values[i]! > values[i - 1]!)) refuse(`${field}[${i}]`, String(values[i]), `more than ${values[i - 1]}`);
  };
  rising('stationsMm', doc.stationsMm);
  rising('slopeYMm', [...doc.slopeYMm, doc.edgeYMm]);
}

function lowered(height: SectionHeight, byMm: number): SectionHeight {
  return {
    ...height,
    row: (x) => {
      const row = height.row(x);
      return (y) => row(y) - byMm;
    },
    jet: (x, y, out) => {
      height.jet(x, y, out);
      out.z -= byMm;
      return out;
    },
  };
}

/** Lowest point of the mean bearing line between blade edge and last rib, to 0.01 mm along x. */
function bearingLowPoint(height: SectionHeight, doc: SectionsBackDocument): { xMm: number; zMm: number } {
  const y = doc.bearingLineYMm;
  const mean = (x: number): number => {
    const row = height.row(x);
    return (row(y) + row(-y)) / 2;
  };
  const from = Math.max(0, height.fromXMm);
  const to = Math.min(doc.usableLengthMm, height.toXMm);
  let best = from;
  for (let x = from; x <= to; x += 2) if (mean(x) < mean(best)) best = x;
  let a = Math.max(from, best - 2);
  let b = Math.min(to, best + 2);
  while (b - a > 0.01) {
    const third = (b - a) / 3;
    if (mean(a + third) < mean(b - third)) b -= third;
    else a += third;
  }
  return { xMm: (a + b) / 2, zMm: mean((a + b) / 2) };
}

function chartOf(height: SectionHeight, side: Side, doc: SectionsBackDocument) {
  const sign = side === 'right' ? 1 : -1;
  const tilt = meanSlope(height, doc, sign);
  const c = Math.cos(tilt);
  const s = sign * Math.sin(tilt);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let x = height.fromXMm; x <= height.toXMm; x += 20) {
    const row = height.row(x);
    for (const y of [-sign * 20, sign * height.edgeYMm]) {
      const v = c * y - s * row(y);
      low = Math.min(low, v);
      high = Math.max(high, v);
    }
  }
  const yRange: [number, number] = sign > 0 ? [-20, height.edgeYMm] : [-height.edgeYMm, 20];
  return buildChartFromHeights(side, tilt, [height.fromXMm, height.toXMm], [low, high], CELL_MM, (x) => height.row(x), {
    yRangeMm: yRange,
  });
}

/** Mean slope outward of one side over the part that bars meet, radians. */
function meanSlope(height: SectionHeight, doc: SectionsBackDocument, sign: number): number {
  let sum = 0;
  let count = 0;
  for (let x = Math.max(0, height.fromXMm); x <= Math.min(doc.usableLengthMm, height.toXMm); x += 20) {
    const row = height.row(x);
    const to = Math.min(TILT_TO_Y_MM, height.edgeYMm);
    sum += Math.atan2(row(sign * TILT_FROM_Y_MM) - row(sign * to), to - TILT_FROM_Y_MM);
    count++;
  }
  return sum / Math.max(1, count);
}

function accuracyOf(height: SectionHeight, doc: SectionsBackDocument, fast: DistanceField, exact: DistanceField) {
  const from = Math.max(-60, height.fromXMm + 40);
  const to = Math.min(doc.usableLengthMm + 100, height.toXMm - 40);
  const surface: number[] = [];
  for (let i = 0; i < 20; i++) {
    const x = from + ((to - from) * (i + 0.37)) / 20;
    const row = height.row(x);
    for (let j = 0; j < 6; j++) {
      const y = 45 + (155 * (j + 0.43)) / 6;
      surface.push(x, y, row(y), x, -y, row(-y));
    }
  }
  return measurePathAccuracy(fast, exact, Float64Array.from(surface), { smoothingMm: 0, foldedFraction: 0 });
}

function landmarksOf(
  height: SectionHeight,
  doc: SectionsBackDocument,
  lowXMm: number,
  blades: BladePositions,
): Landmarks {
  const at = (x: number, y: number): readonly [number, number, number] => [x, y, height.row(clamp(x, height))(y)];
  let top = height.fromXMm;
  for (let x = height.fromXMm; x <= doc.usableLengthMm / 2; x += 5) if (height.row(x)(0) > height.row(top)(0)) top = x;
  const y = doc.bearingLineYMm;
  return {
    bladeEdgeLeft: at(blades.leftMm, -y),
    bladeEdgeRight: at(blades.rightMm, y),
    withersTop: at(top, 0),
    lowPoint: at(lowXMm, 0),
    lastRib: at(doc.usableLengthMm, 0),
    proposed: [],
  };
}

const clamp = (x: number, h: SectionHeight): number => Math.min(h.toXMm, Math.max(h.fromXMm, x));

/** A regular 10 mm net over the data. */
function meshOf(height: SectionHeight, doc: SectionsBackDocument): TriangleMesh {
  const nx = Math.max(2, Math.round((height.toXMm - height.fromXMm) / 10) + 1);
  const ny = Math.max(3, 2 * Math.round(doc.edgeYMm / 10) + 1);
  const positions = new Float64Array(3 * nx * ny);
  for (let i = 0; i < nx; i++) {
    const x = height.fromXMm + ((height.toXMm - height.fromXMm) * i) / (nx - 1);
    const row = height.row(x);
    for (let j = 0; j < ny; j++) {
      const y = -doc.edgeYMm + (2 * doc.edgeYMm * j) / (ny - 1);
      positions.set([x, y, row(y)], 3 * (i * ny + j));
    }
  }
  const triangles = new Uint32Array(6 * (nx - 1) * (ny - 1));
  let at = 0;
  for (let i = 0; i + 1 < nx; i++) {
    for (let j = 0; j + 1 < ny; j++) {
      const a = i * ny + j;
      triangles.set([a, a + ny, a + 1, a + 1, a + ny, a + ny + 1], at);
      at += 6;
    }
  }
  return { positions, triangles };
}
