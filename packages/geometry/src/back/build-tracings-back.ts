import { InputError } from '../numeric/index.ts';
import { buildChartFromHeights, createChartField, type DistanceField, type Side } from '../spatial/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { BackSurface, Landmarks, PathAccuracy } from './back-surface.ts';
import { bladesOf } from './blades.ts';
import { liftHeight } from './lift.ts';
import { liftBack } from './lifted-back.ts';
import { measurePathAccuracy } from './measure-path-accuracy.ts';
import { meanSlope } from './scan-charts.ts';
import type { ScanFrame } from './scan-frame.ts';
import { createSectionDistance } from './section-distance.ts';
import type { SectionHeight } from './section-height.ts';
import { createSurfaceJet } from './surface-jet.ts';
import { prepareTracings } from './tracings-check.ts';
import { type LengthwiseCurve, turnOf } from './tracings-curves.ts';
import { tracingsFrame, tracingsToHorse, turnedLoft } from './tracings-frame.ts';
import { liftsAlong } from './tracings-lengthwise.ts';
import { type Loft, loftStations } from './tracings-loft.ts';
import { openQuestionError, type TracingQuestion } from './tracings-questions.ts';
import type { TracingsBackDocument } from './tracings-schema.ts';
import type { TracedStation } from './tracings-stations.ts';
import { gapsBetween, type StationGap, uncertaintyIn } from './tracings-uncertainty.ts';

export interface TracingsBackReport {
  /** Largest distance from a traced point of a cross-section to the surface, mm, and the section. */
  readonly worstMm: number;
  readonly worstCurve: string;
  /** The same of the lengthwise curves, where they run over the data; 0 without any. */
  readonly worstLengthwiseMm: number;
  /** Stations in the horse frame at the midline, mm. */
  readonly stationsMm: readonly number[];
  /** Stretches between stations, where the surface is interpolated, horse frame, with the uncertainty half-way. */
  readonly interpolated: readonly { readonly fromMm: number; readonly toMm: number; readonly uncertaintyMm: number }[];
  /** Questions that don't keep a back from being built. */
  readonly questions: readonly TracingQuestion[];
}

const BEARING_LINE_Y_MM = 120;
const CELL_MM = 2;
const NET_MM = 10;

/**
 * A back from tracings (DESIGN 3): sections smoothed and lofted, frame from landmarks or the tracings' own midline.
 * Beyond the first and last station and beyond the traced width there is no data.
 * @throws InputError 'ambiguous' naming the first question that has to be answered, 'missing' with fewer than two
 * stations, and all that the cleaning and the frame throw
 */
export function buildTracingsBack(doc: TracingsBackDocument): { back: BackSurface; report: TracingsBackReport } {
  const prepared = prepareTracings(doc);
  const blocking = prepared.questions.find((q) => q.blocking);
  if (blocking !== undefined) throw openQuestionError(blocking);
  const { stations, unit } = prepared;
  if (stations.length < 2) throw tooFewStations(stations.length);
  const bare = loftStations(stations, liftsAlong(stations, prepared.lengthwise));
  const frame = tracingsFrame(doc, unit, bare, BEARING_LINE_Y_MM);
  const loft = turnedLoft(bare, frame);
  const gaps = gapsBetween(stations);
  const measuredMm = doc.measured.uncertaintyMm;
  const uncertaintyAt = (x: number): number => uncertaintyIn(gaps, measuredMm, stationAt(frame, x));
  const worst = worstOf(stations, bare);
  const report: TracingsBackReport = {
    ...worst,
    worstLengthwiseMm: worstLengthwise(prepared.lengthwise, bare),
    stationsMm: stations.map((s) => horseX(frame, s.xMm)),
    interpolated: gaps.map((gap) => describeGap(gap, frame, measuredMm)),
    questions: prepared.questions,
  };
  const warnings = [...prepared.warnings, ...frame.warnings, ...saying(report, frame.landmarks)];
  const exactOf = (of: Loft): DistanceField => insideOnly(createSectionDistance(asSections(of)), of);
  const exact = exactOf(loft);
  const left = chartOf(loft, 'left', frame.landmarks);
  const right = chartOf(loft, 'right', frame.landmarks);
  const fast = createChartField(left, right);
  let accuracy: PathAccuracy | undefined;
  const heightMm = (x: number, y: number): number => loft.row(x)(y);
  const back: BackSurface = {
    name: doc.name,
    kind: 'tracings',
    exact,
    fast,
    get fastAccuracy(): PathAccuracy {
      accuracy ??= measurePathAccuracy(fast, exact, comparedAt(loft, frame.landmarks), {
        smoothingMm: 0,
        foldedFraction: 0,
      });
      return accuracy;
    },
    landmarks: frame.landmarks,
    measured: doc.measured,
    blades: bladesOf(doc.bladeBulge?.heightMm, doc.bladeSwingMm),
    warnings,
    fileToHorse: tracingsToHorse(turnOf(doc, unit), frame),
    heightMm,
    uncertaintyAt,
    lifted: (lift) => liftBack(back, { left, right, exactWith: (by) => exactOf(liftHeight(loft, by)) }, lift),
    drawingMesh: () => meshOf(loft),
  };
  return { back, report };
}

function tooFewStations(count: number): InputError {
  return new InputError({
    code: 'missing',
    field: 'curves',
    got: `${count} station${count === 1 ? '' : 's'} to be used`,
    expected: 'cross-sections at two stations or more',
    remedy: 'Trace more stations, or keep those that were left out.',
  });
}

/** x in the horse frame of a station on the tracings' midline, and back. */
const horseX = (frame: ScanFrame, x: number): number => frame.cos * x + frame.shiftMm[0];
const stationAt = (frame: ScanFrame, x: number): number =>
  frame.cos * (x - frame.shiftMm[0]) + frame.sin * frame.shiftMm[1];

function describeGap(gap: StationGap, frame: ScanFrame, measuredMm: number) {
  return {
    fromMm: horseX(frame, gap.fromMm),
    toMm: horseX(frame, gap.toMm),
    uncertaintyMm: uncertaintyIn([gap], measuredMm, (gap.fromMm + gap.toMm) / 2),
  };
}

function worstOf(stations: readonly TracedStation[], loft: Loft): { worstMm: number; worstCurve: string } {
  const jet = createSurfaceJet();
  let worstMm = 0;
  let worstCurve = stations[0]!.ids.join('+');
  for (const station of stations) {
    for (const [y, z] of station.points) {
      loft.jet(station.xMm, y, jet);
      const away = Math.abs(jet.z - z) / Math.hypot(1, jet.zy);
      if (!(away > worstMm)) continue;
      worstMm = away;
      worstCurve = station.ids.join('+');
    }
  }
  return { worstMm, worstCurve };
}

function worstLengthwise(curves: readonly LengthwiseCurve[], loft: Loft): number {
  const jet = createSurfaceJet();
  let worst = 0;
  for (const [x, y, z] of curves.flatMap((c) => c.points)) {
    if (!loft.contains(x, y)) continue;
    loft.jet(x, y, jet);
    worst = Math.max(worst, Math.abs(jet.z - z) / Math.hypot(1, jet.zx, jet.zy));
  }
  return worst;
}

function saying(report: TracingsBackReport, landmarks: Landmarks): string[] {
  const widest = report.interpolated.reduce((a, b) => (b.uncertaintyMm > a.uncertaintyMm ? b : a));
  const said = [
    `Traced at ${report.stationsMm.length} stations and interpolated between them: uncertain by up to ${widest.uncertaintyMm.toFixed(1)} mm between x = ${widest.fromMm.toFixed(0)} and ${widest.toMm.toFixed(0)} mm.`,
  ];
  if (landmarks.proposed.length > 0) {
    said.push(`Not marked, proposed from the shape: ${landmarks.proposed.join(', ')}.`);
  }
  return said;
}

/** The loft with its smooth continuation over the rectangle about its data, which the search for feet needs. */
function asSections(loft: Loft): SectionHeight {
  const edgeYMm = Math.max(loft.leftMm, loft.rightMm);
  return { fromXMm: loft.fromXMm, toXMm: loft.toXMm, edgeYMm, row: loft.row, jet: loft.jet };
}

/** Feet on the continuation beyond the data are no data. */
function insideOnly(field: DistanceField, loft: Loft): DistanceField {
  return {
    smooth: field.smooth,
    evaluate(points, from, to, side, out, wantHessian, hints) {
      field.evaluate(points, from, to, side, out, wantHessian, hints);
      for (let i = from; i < to; i++) {
        if (out.hasData[i] === 1 && !loft.contains(out.footMm[3 * i]!, out.footMm[3 * i + 1]!)) out.hasData[i] = 0;
      }
    },
  };
}

function chartOf(loft: Loft, side: Side, landmarks: Landmarks) {
  const sign = side === 'right' ? 1 : -1;
  const tilt = meanSlope((x, y) => loft.row(x)(y), landmarks, sign);
  const c = Math.cos(tilt);
  const s = sign * Math.sin(tilt);
  const edge = side === 'right' ? loft.rightMm : loft.leftMm;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let x = loft.fromXMm; x <= loft.toXMm; x += NET_MM) {
    const row = loft.row(x);
    for (let y = -20; y <= edge; y += NET_MM / 2) {
      const z = row(sign * y);
      if (Number.isNaN(z)) continue;
      const v = c * sign * y - s * z;
      low = Math.min(low, v);
      high = Math.max(high, v);
    }
  }
  if (!(low < high)) [low, high] = [0, CELL_MM];
  const yRangeMm: [number, number] = sign > 0 ? [-20, edge] : [-edge, 20];
  return buildChartFromHeights(side, tilt, [loft.fromXMm, loft.toXMm], [low, high], CELL_MM, loft.row, { yRangeMm });
}

/** Where the two paths are compared: 20 stations from blade edge to last rib, six places each side, |y| 45 ... 200 mm. */
function comparedAt(loft: Loft, landmarks: Landmarks): Float64Array {
  const points: number[] = [];
  for (let i = 0; i < 20; i++) {
    const x = (landmarks.lastRib[0] * (i + 0.37)) / 20;
    const row = loft.row(x);
    for (let j = 0; j < 12; j++) {
      const y = (j % 2 === 0 ? 1 : -1) * (45 + (155 * (j + 0.43)) / 12);
      const z = row(y);
      if (!Number.isNaN(z)) points.push(x, y, z);
    }
  }
  return Float64Array.from(points);
}

/** A net over the data; cells that leave it are left out. */
function meshOf(loft: Loft): TriangleMesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  const columns = Math.floor((loft.leftMm + loft.rightMm) / NET_MM);
  let before = new Int32Array(columns + 1).fill(-1);
  for (let x = loft.fromXMm; x <= loft.toXMm; x += NET_MM) {
    const row = loft.row(x);
    const here = new Int32Array(columns + 1).fill(-1);
    for (let j = 0; j <= columns; j++) {
      const y = -loft.leftMm + j * NET_MM;
      const z = row(y);
      if (Number.isNaN(z)) continue;
      here[j] = positions.length / 3;
      positions.push(x, y, z);
    }
    for (let j = 0; j < columns; j++) {
      const [a, b, c, d] = [before[j]!, here[j]!, before[j + 1]!, here[j + 1]!];
      if (Math.min(a, b, c, d) >= 0) triangles.push(a, b, c, c, b, d);
    }
    before = here;
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}
