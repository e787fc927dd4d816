import type { Vec3 } from './back-surface.ts';
import { turnFromAxes, turnPoint } from './scan-axes.ts';
import { SCAN_UNIT_MM } from './scan-schema.ts';
import type { AnswerSheet } from './tracings-questions.ts';
import type { TracingDocumentCurve, TracingsBackDocument } from './tracings-schema.ts';

/** A cross-section in the tracings' frame: mm, y to the right, z up, its station's x towards the tail. */
export interface CrossCurve {
  readonly id: string;
  readonly xMm: number;
  readonly side: 'left' | 'right' | 'both';
  readonly points: readonly (readonly [number, number])[];
}

export interface LengthwiseCurve {
  readonly id: string;
  /** x rising towards the tail. */
  readonly points: readonly Vec3[];
}

export type TracingUnit = TracingsBackDocument['unit'];

/** Widths that a tracing over the back can have, mm: both sides, one side. Our own rule, no source. */
const FULL_WIDTH_MM = [250, 1100] as const;
const HALF_WIDTH_MM = [100, 550] as const;
const TILT_DEG = 1;
const OUT_OF_PLANE_MM = 5;

/** The unit to use, or the stated one with an open question where no tracing could be that wide. */
export function settleUnit(doc: TracingsBackDocument, sheet: AnswerSheet): TracingUnit {
  const rightAxis = (doc.axes?.right ?? '+y').charCodeAt(1) - 'x'.charCodeAt(0);
  const shares = doc.curves.flatMap((curve) => {
    if (curve.kind !== 'cross') return [];
    const y = curve.points.map((p) => (p.length === 2 ? p[0] : p[rightAxis]!));
    const from = smallest(y);
    const to = -smallest(y.map((v) => -v));
    const half = curve.side === 'left' || curve.side === 'right' || from * to >= 0;
    return [{ width: to - from, range: half ? HALF_WIDTH_MM : FULL_WIDTH_MM }];
  });
  const fits = (unit: TracingUnit): boolean =>
    shares.filter(({ width, range }) => {
      const mm = width * SCAN_UNIT_MM[unit];
      return mm >= range[0] && mm <= range[1];
    }).length >=
    shares.length / 2;
  if (shares.length === 0 || fits(doc.unit)) return doc.unit;
  const width = [...shares].sort((a, b) => a.width - b.width)[shares.length >> 1]!.width;
  const units: readonly TracingUnit[] = ['mm', 'cm', 'm', 'in'];
  const answer = sheet.ask({
    id: 'unit',
    question: 'In which unit are these tracings?',
    choices: units.map((unit) => ({
      id: unit,
      meaning: `sections ${(width * SCAN_UNIT_MM[unit]).toPrecision(3)} mm wide${fits(unit) ? ', as wide as a back' : ''}`,
    })),
    evidence: `in ${doc.unit} the sections are ${(width * SCAN_UNIT_MM[doc.unit]).toPrecision(3)} mm wide`,
  });
  return (answer as TracingUnit | null) ?? doc.unit;
}

/** x of the blade edges in the tracings' frame, mm: stations count from there. 0 where none is marked. */
export function bladeXMm(doc: TracingsBackDocument, unit: TracingUnit): number {
  const marks = [doc.landmarks?.bladeEdgeLeft, doc.landmarks?.bladeEdgeRight].filter((p) => p !== undefined);
  if (marks.length === 0) return 0;
  const turn = turnOf(doc, unit);
  return marks.reduce((sum, p) => sum + turnPoint(turn, p)[0], 0) / marks.length;
}

/** y of the midplane along x in the tracings' frame: through withersTop and lastRib where both are marked, else 0. */
export function midlineOf(doc: TracingsBackDocument, unit: TracingUnit): (xMm: number) => number {
  const { withersTop, lastRib } = doc.landmarks ?? {};
  if (withersTop === undefined || lastRib === undefined) return () => 0;
  const turn = turnOf(doc, unit);
  const a = turnPoint(turn, withersTop);
  const b = turnPoint(turn, lastRib);
  const rate = Math.abs(b[0] - a[0]) < 1 ? 0 : (b[1] - a[1]) / (b[0] - a[0]);
  return (x) => a[1] + rate * (x - a[0]);
}

export const turnOf = (doc: TracingsBackDocument, unit: TracingUnit): readonly number[] =>
  turnFromAxes(doc.axes ?? { tail: '+x', right: '+y', up: '+z' }, unit);

/** Cross-sections with their stations, turned level as answered. Sections to be left out are left out. */
export function crossCurves(
  doc: TracingsBackDocument,
  unit: TracingUnit,
  sheet: AnswerSheet,
  warnings: string[],
): CrossCurve[] {
  const bladeX = bladeXMm(doc, unit);
  const unmarked = withoutLevelMark(doc, sheet);
  return doc.curves.flatMap((curve) => {
    if (curve.kind !== 'cross' || unmarked.has(curve.id)) return [];
    const { stationMm, points } = inPlane(doc, curve, unit, warnings);
    const xMm = settleStation(curve, stationMm, bladeX, sheet);
    if (xMm === null) return [];
    const level = settleLevel(curve, points, sheet);
    if (level === null) return [];
    const sided = settleSide(curve, level, sheet);
    return sided === null ? [] : [{ id: curve.id, xMm, ...sided }];
  });
}

type Plane = readonly (readonly [number, number])[];

function inPlane(
  doc: TracingsBackDocument,
  curve: TracingDocumentCurve,
  unit: TracingUnit,
  warnings: string[],
): { stationMm: number | null; points: Plane } {
  const scale = SCAN_UNIT_MM[unit];
  const first = curve.points[0]!;
  if (first.length === 2) {
    return { stationMm: null, points: curve.points.map((p) => [p[0] * scale, p[1] * scale] as const) };
  }
  const turn = turnOf(doc, unit);
  const turned = curve.points.map((p) => turnPoint(turn, p));
  const x = turned.map((p) => p[0]);
  const mean = x.reduce((sum, v) => sum + v, 0) / x.length;
  const off = -smallest(x.map((v) => -Math.abs(v - mean)));
  if (off > OUT_OF_PLANE_MM) {
    warnings.push(`${curve.id}: its points lie up to ${off.toFixed(0)} mm ahead of or behind its plane.`);
  }
  return { stationMm: mean, points: turned.map((p) => [p[1], p[2]] as const) };
}

function settleStation(
  curve: TracingDocumentCurve,
  fromPointsMm: number | null,
  bladeX: number,
  sheet: AnswerSheet,
): number | null {
  if (curve.stationMm !== undefined && curve.stationMm !== null) return bladeX + curve.stationMm;
  if (fromPointsMm !== null) return fromPointsMm;
  const answer = sheet.ask({
    id: `station:${curve.id}`,
    question: `How far behind the blade edge was "${curve.id}" traced?`,
    choices: [{ id: 'leave-out', meaning: 'build the back without this tracing' }],
    evidence: `"${curve.id}" states no station`,
    takesNumberMm: true,
  });
  return answer === null || answer === 'leave-out' ? null : bladeX + Number(answer);
}

/** One question for all paper tracings without a level mark; answers the ids to be left out. */
function withoutLevelMark(doc: TracingsBackDocument, sheet: AnswerSheet): Set<string> {
  const bare = doc.curves.filter(
    (c) => c.kind === 'cross' && (c.level === null || (c.level === undefined && isPaper(c))),
  );
  if (bare.length === 0) return new Set();
  const names = bare.map((c) => `"${c.id}"`);
  const answer = sheet.ask({
    id: 'no-level-mark',
    question: 'Were the tracings without a level mark drawn with their y axis level?',
    choices: [
      { id: 'as-drawn', meaning: 'yes, the y axis was level on the horse' },
      { id: 'leave-out', meaning: 'not known: build the back without them' },
    ],
    evidence: `no level mark on ${names.slice(0, 4).join(', ')}${names.length > 4 ? ` and ${names.length - 4} more` : ''}`,
  });
  return new Set(answer === 'leave-out' ? bare.map((c) => c.id) : []);
}

const isPaper = (curve: TracingDocumentCurve): boolean => curve.points[0]!.length === 2;

function settleLevel(curve: TracingDocumentCurve, points: Plane, sheet: AnswerSheet): Plane | null {
  const mark = curve.level;
  if (mark === undefined || mark === null || mark.direction === undefined) return points;
  const [dy, dz] = mark.direction;
  const tilt = Math.atan(dz / dy);
  const tiltDeg = (tilt * 180) / Math.PI;
  if (!(Math.abs(tiltDeg) > TILT_DEG)) return points;
  const answer = sheet.ask({
    id: `level:${curve.id}`,
    question: `Should "${curve.id}" be turned until its level mark is level?`,
    choices: [
      { id: 'turn', meaning: `turn it by ${Math.abs(tiltDeg).toFixed(1)} degrees about its point nearest the midline` },
      { id: 'as-drawn', meaning: 'the mark is wrong, the tracing is level as drawn' },
      { id: 'leave-out', meaning: 'build the back without this tracing' },
    ],
    evidence: `the level mark of "${curve.id}" is tilted by ${tiltDeg.toFixed(1)} degrees, ${tilt > 0 ? 'right' : 'left'} end up`,
  });
  if (answer === 'leave-out') return null;
  return answer === 'turn' ? turned(points, -tilt) : points;
}

function turned(points: Plane, byRad: number): Plane {
  const pivot = points.reduce((a, b) => (Math.abs(b[0]) < Math.abs(a[0]) ? b : a));
  const c = Math.cos(byRad);
  const s = Math.sin(byRad);
  return points.map(([y, z]) => {
    const dy = y - pivot[0];
    const dz = z - pivot[1];
    return [pivot[0] + c * dy - s * dz, pivot[1] + s * dy + c * dz] as const;
  });
}

/** Distances outward become signed; a label against the signs of its own points is asked about. */
function settleSide(
  curve: TracingDocumentCurve,
  points: Plane,
  sheet: AnswerSheet,
): Pick<CrossCurve, 'side' | 'points'> | null {
  const low = smallest(points.map((p) => p[0]));
  const high = -smallest(points.map((p) => -p[0]));
  const mirrored = (): Plane => points.map(([y, z]) => [-y, z] as const);
  const lies = high > -low ? 'right' : 'left';
  const oneSided = Math.min(high, -low) < 0.3 * Math.max(high, -low);
  const label = curve.side ?? (oneSided ? lies : 'both');
  if (label === 'both' || !oneSided || label === lies) return { side: oneSided ? label : 'both', points };
  // A paper tracing of the left side with positive distances is read as distances outward.
  if (label === 'left' && isPaper(curve)) return { side: 'left', points: mirrored() };
  const answer = sheet.ask({
    id: `side:${curve.id}`,
    question: `Which side of the horse is "${curve.id}"?`,
    choices: [
      { id: 'left', meaning: 'the left (near) side' },
      { id: 'right', meaning: 'the right (off) side' },
      { id: 'leave-out', meaning: 'build the back without this tracing' },
    ],
    evidence: `"${curve.id}" is labelled ${label}, but its points lie on the ${lies}`,
  });
  if (answer === 'leave-out') return null;
  const side = answer === null ? label : (answer as 'left' | 'right');
  return { side, points: side === lies ? points : mirrored() };
}

/** Lengthwise curves in the tracings' frame, sorted towards the tail. */
export function lengthwiseCurves(doc: TracingsBackDocument, unit: TracingUnit): LengthwiseCurve[] {
  const bladeX = bladeXMm(doc, unit);
  const scale = SCAN_UNIT_MM[unit];
  const turn = turnOf(doc, unit);
  return doc.curves.flatMap((curve) => {
    if (curve.kind !== 'lengthwise') return [];
    const points: Vec3[] = curve.points.map((p) =>
      p.length === 2 ? [bladeX + p[0] * scale, 0, p[1] * scale] : turnPoint(turn, p),
    );
    return [{ id: curve.id, points: points.sort((a, b) => a[0] - b[0]) }];
  });
}

const smallest = (values: readonly number[]): number =>
  values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
