import { buildTriangleTree, createHeightQuery } from '../spatial/index.ts';
import { cleanMesh } from '../surface/clean-mesh.ts';
import { meshBounds } from '../surface/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { Vec3 } from './back-surface.ts';
import { LANDMARK_NAMES, type LandmarkProposals, type PlanLine, proposeLandmarks } from './propose-landmarks.ts';
import { type Orientation, proposeOrientation } from './propose-orientation.ts';
import {
  AXES,
  type Axis,
  axisVector,
  type Confidence,
  cross,
  dot,
  nearestAxis,
  oppositeAxis,
  type Proposal,
  saidSo,
  type Vector,
} from './propose-part.ts';
import { proposeSides } from './propose-sides.ts';
import { proposeSurface, withCloud } from './propose-surface.ts';
import { readTail, type TailReading } from './propose-tail.ts';
import { principalSides, proposeUnit, type ScanUnit } from './propose-unit.ts';
import { type Turn, turnFromAxes, turnPoint } from './scan-axes.ts';
import type { GivenLandmarks, LandmarkName } from './scan-landmarks.ts';
import { SCAN_UNIT_MM } from './scan-schema.ts';
import type { TracingQuestion } from './tracings-questions.ts';

/** What somebody knows already; landmarks in the file's own coordinates and unit. */
export interface ScanHints {
  readonly unit?: ScanUnit;
  readonly tail?: Axis;
  readonly right?: Axis;
  readonly up?: Axis;
  readonly landmarks?: GivenLandmarks;
  /** The file was saved mirrored. */
  readonly mirrored?: boolean;
}

/** A mesh, or a cloud of points without triangles, as it was read, with whatever its file states about itself. */
export interface ProposableScan {
  readonly mesh: TriangleMesh;
  readonly statedUnit?: ScanUnit;
  readonly statedUp?: '+y' | '+z';
}

export interface MidplaneFound {
  /** A point of it and its normal, towards the horse's right, in the file's coordinates (point in the file's unit). */
  readonly pointInFile: Vec3;
  readonly normalInFile: Vec3;
  readonly residualMm: number;
  readonly overlap: number;
  readonly leanDeg: number;
}

/** Everything that a scan document has to say and a mesh file does not. Nothing of it is applied by itself. */
export interface ScanProposal {
  readonly unit: Proposal<ScanUnit>;
  readonly up: Proposal<Axis>;
  readonly tail: Proposal<Axis>;
  readonly right: Proposal<Axis>;
  /** Row-major rotation of the file's coordinates before the axes, or null when the file's axes serve. */
  readonly turn: Proposal<readonly number[] | null>;
  /** Whether the file was saved mirrored: only marks on a named side, or a person, can tell. */
  readonly mirrored: Proposal<boolean>;
  readonly midplane: Proposal<MidplaneFound>;
  /** In the file's own coordinates and unit; null where the shape gives none. */
  readonly landmarks: LandmarkProposals;
  /** What no proposal can settle: a person has to choose. */
  readonly questions: readonly TracingQuestion[];
  /** Parts that nobody gave and somebody has to confirm, then the questions. */
  readonly toConfirm: readonly string[];
}

/**
 * Reads unit, axes, midplane and landmarks from a scan's shape, each with its reason and how far to trust it. Of a cloud it first finds
 * the way up and makes a surface. The caller shows them and a person confirms; scanDocumentFromProposal makes the document.
 * @throws InputError as cleanMesh and, for clouds, scanSurface; 'inconsistent' for given axes that contradict each other
 */
export function proposeScan(scan: ProposableScan, hints: ScanHints = {}): ScanProposal {
  const surface = proposeSurface(scan.mesh, hints);
  const { mesh } = cleanMesh(surface.mesh);
  const unit =
    hints.unit === undefined ? proposeUnit(principalSides(mesh.positions), scan.statedUnit) : saidSo(hints.unit);
  const scale = SCAN_UNIT_MM[unit.value];
  const inMm = { positions: mesh.positions.map((value) => value * scale), triangles: mesh.triangles };
  const stated = scan.statedUp === undefined ? {} : { statedUp: scan.statedUp };
  const found = proposeOrientation(inMm, buildTriangleTree(inMm), { ...hints, ...stated });
  const tail = orientTail(inMm, found, hints, scale);
  const axes = { tail: tail.tail.value, right: tail.right.value, up: found.up.value };
  const turn = turnFromAxes(axes, unit.value, tail.turn ?? undefined, hints.mirrored);
  const line = planLine(turn, found, scale);
  const landmarks = landmarksInFile(mesh, turn, line, hints.landmarks ?? {}, scale);
  const sides = proposeSides(turn, line, hints, tail.tail.given || hasTopline(hints));
  const parts = {
    unit,
    up: withCloud(found.up, surface.up),
    tail: tail.tail,
    right: tail.right,
    turn: turnProposal(tail.turn, found),
    mirrored: sides.mirrored,
    midplane: midplaneProposal(found, turn, scale),
    landmarks,
    questions: sides.questions,
  };
  return { ...parts, toConfirm: openParts(parts) };
}

const hasTopline = ({ landmarks }: ScanHints): boolean =>
  landmarks?.withersTop !== undefined && landmarks.lastRib !== undefined;

function openParts(parts: Omit<ScanProposal, 'toConfirm'>): string[] {
  const main = (['unit', 'up', 'tail', 'right'] as const).filter((name) => !parts[name].given);
  const turned = parts.turn.value === null ? [] : ['turn'];
  const marks = LANDMARK_NAMES.filter((name) => !parts.landmarks[name].given).map((name) => `landmarks.${name}`);
  return [...main, ...turned, ...marks, ...parts.questions.map(({ id }) => id)];
}

interface TailFound {
  readonly tail: Proposal<Axis>;
  readonly right: Proposal<Axis>;
  readonly turn: number[] | null;
}

const scaled = (v: Vector, by: number): Vector => [by * v[0], by * v[1], by * v[2]];

const rightReason = ({ mirrored }: ScanHints): string =>
  mirrored === true
    ? 'From tail and up by the left-hand rule, as the file is said to be mirrored.'
    : 'From tail and up by the right-hand rule. A scan that was saved mirrored has the same shape: only a mark on the horse tells.';

function orientTail(inMm: TriangleMesh, found: Orientation, hints: ScanHints, scale: number): TailFound {
  const up = found.askew?.up ?? axisVector(found.up.value);
  const hand = hints.mirrored === true ? -1 : 1;
  if (hints.tail !== undefined) {
    const right = hints.right ?? axisOf(scaled(cross(up, axisVector(hints.tail)), hand));
    return { tail: saidSo(hints.tail), right: rightProposal(right, hints), turn: null };
  }
  if (hints.right !== undefined) {
    return {
      tail: { ...saidSo(axisOf(scaled(cross(axisVector(hints.right), up), hand))), given: true },
      right: saidSo(hints.right),
      turn: null,
    };
  }
  const reading = tailByLandmarks(hints, found, scale) ?? tailByShape(inMm, found, up);
  const towards = found.along.map((value) => (reading.towardsLarger ? value : -value)) as Vector;
  const across = cross(up, towards);
  const upAxis = axisVector(found.up.value);
  // Lying level but at an angle in plan, the file keeps its own axis for up; lying askew, the turned axes are plain x, y, z.
  const isLevel = dot(up, upAxis) > 1 - 1e-12;
  const level = AXES.filter((axis) => Math.abs(dot(axisVector(axis), upAxis)) < 0.5);
  const value = isLevel ? nearestAxis(towards, level).axis : '+x';
  const right = axisOf(cross(upAxis, axisVector(value)));
  const turn =
    found.askew === null ? null : rotationOnto([axisVector(value), axisVector(right), upAxis], [towards, across, up]);
  return {
    tail: {
      value,
      alternatives: [
        { value: oppositeAxis(value), score: 1 - reading.score, reason: 'The horse the other way round.' },
      ],
      reason: `${reading.reason} ${lengthReason(found)}`,
      confidence: found.shape.curvatureRatio > 2 ? reading.confidence : 'unsure',
      given: false,
    },
    right: {
      value: hand < 0 ? oppositeAxis(right) : right,
      alternatives: [],
      reason: rightReason(hints),
      confidence: reading.confidence,
      given: false,
    },
    turn,
  };
}

/** Row-major rotation that carries each direction onto its axis: the sum of axis x direction. */
function rotationOnto(axes: readonly Vector[], directions: readonly Vector[]): number[] {
  return Array.from({ length: 9 }, (_, k) =>
    axes.reduce((sum, axis, i) => sum + axis[Math.floor(k / 3)] * directions[i][k % 3], 0),
  );
}

function rightProposal(value: Axis, hints: ScanHints): Proposal<Axis> {
  if (hints.right !== undefined) return saidSo(value);
  const isGiven = hints.up !== undefined && hints.tail !== undefined;
  return {
    value,
    alternatives: [],
    reason: rightReason(hints),
    confidence: isGiven ? 'clear' : 'likely',
    given: isGiven,
  };
}

function lengthReason({ shape }: Orientation): string {
  const ratio = shape.curvatureRatio;
  return ratio > 2
    ? 'Along the horse is the way that stays straight or hollow while the other falls away to both sides.'
    : `It falls away along as well as across (${ratio.toFixed(1)} to 1), so even which way it lies is doubtful.`;
}

const axisOf = (direction: Vector): Axis => nearestAxis(direction).axis;

function tailByLandmarks(hints: ScanHints, found: Orientation, scale: number): TailReading | null {
  const { withersTop, lastRib } = hints.landmarks ?? {};
  if (withersTop === undefined || lastRib === undefined) return null;
  const run =
    scale *
    dot(
      found.along,
      [0, 1, 2].map((k) => lastRib[k] - withersTop[k]),
    );
  const reason = `From withersTop to lastRib, as given, it is ${Math.abs(run).toFixed(0)} mm that way.`;
  return { towardsLarger: run >= 0, confidence: Math.abs(run) > 100 ? 'clear' : 'unsure', reason, score: 0.95 };
}

/** The profile along the mirror plane, looking down along up. */
function tailByShape(inMm: TriangleMesh, found: Orientation, up: Vector): TailReading {
  const { along, plane, shape } = found;
  const rows = [along, cross(up, along), up];
  const turned = new Float64Array(inMm.positions.length);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < turned.length; i += 3) {
    const p = inMm.positions.subarray(i, i + 3);
    for (let r = 0; r < 3; r++) turned[i + r] = dot(rows[r], p);
    low = Math.min(low, turned[i]);
    high = Math.max(high, turned[i]);
  }
  const mesh = { positions: turned, triangles: inMm.triangles };
  const heightAt = createHeightQuery(mesh, buildTriangleTree(mesh));
  // The point of the plane nearest to the middle of the scan; along and across lie in it and square to it.
  const away = dot(plane.normal, shape.centre) - plane.offsetMm;
  const middle = dot(rows[1], shape.centre) - away * dot(rows[1], plane.normal);
  return readTail((u, v) => heightAt(u, middle + v), low, high);
}

function turnProposal(turn: number[] | null, found: Orientation): Proposal<readonly number[] | null> {
  const confidence: Confidence = turn === null ? 'clear' : 'unsure';
  return { value: turn, alternatives: [], reason: found.turnReason, confidence, given: turn === null };
}

const MIDPLANE_GOOD_MM = 3;
const MIDPLANE_POOR_MM = 8;

function midplaneProposal(found: Orientation, turn: Turn, scale: number): Proposal<MidplaneFound> {
  const { plane, shape, leanDeg } = found;
  const toRight = turn[3] * plane.normal[0] + turn[4] * plane.normal[1] + turn[5] * plane.normal[2] >= 0 ? 1 : -1;
  const away = dot(plane.normal, shape.centre) - plane.offsetMm;
  const point = shape.centre.map((value, k) => (value - away * plane.normal[k]) / scale) as unknown as Vec3;
  const normal = plane.normal.map((value) => toRight * value) as unknown as Vec3;
  const { residualMm, overlap } = plane;
  const covered = overlap > 0.6;
  const confidence: Confidence =
    residualMm < MIDPLANE_GOOD_MM && covered ? 'clear' : residualMm < MIDPLANE_POOR_MM && covered ? 'likely' : 'unsure';
  const reason =
    `The best mirror plane that holds up: the surface and its mirror image differ by ${residualMm.toFixed(1)} mm (root mean square ` +
    `over the best four fifths), with ${(100 * overlap).toFixed(0)} % of it having a counterpart; left free, it would lean ${leanDeg.toFixed(1)} degrees.`;
  return {
    value: { pointInFile: point, normalInFile: normal, residualMm, overlap, leanDeg },
    alternatives: [],
    reason,
    confidence,
    given: false,
  };
}

/** The midplane seen from above: n . p = offset holds in mm in the file's axes; turning keeps it, and it holds up, so z does not enter. */
function planLine(turn: Turn, found: Orientation, scale: number): PlanLine {
  const normal = turnPoint(turn, found.plane.normal).map((value) => value / scale);
  return { atY: found.plane.offsetMm / normal[1], slope: -normal[0] / normal[1] };
}

/** Proposed in turned coordinates, carried back to the file's. */
function landmarksInFile(
  mesh: TriangleMesh,
  turn: Turn,
  line: PlanLine,
  given: GivenLandmarks,
  scale: number,
): LandmarkProposals {
  const turned = { positions: new Float64Array(mesh.positions.length), triangles: mesh.triangles };
  for (let i = 0; i < turned.positions.length; i += 3) {
    turned.positions.set(turnPoint(turn, mesh.positions.subarray(i, i + 3) as unknown as number[]), i);
  }
  const { min, max } = meshBounds(turned);
  const extent = { xMm: [min[0], max[0]] as const, yMm: [min[1], max[1]] as const };
  const inTurned = Object.fromEntries(
    Object.entries(given).flatMap(([name, p]) => (p === undefined ? [] : [[name, turnPoint(turn, p)]])),
  ) as GivenLandmarks;
  const heightAt = createHeightQuery(turned, buildTriangleTree(turned));
  const proposals = proposeLandmarks(inTurned, heightAt, extent, line);
  const back = (p: Vec3): Vec3 =>
    [0, 1, 2].map((k) => (turn[k] * p[0] + turn[3 + k] * p[1] + turn[6 + k] * p[2]) / scale ** 2) as unknown as Vec3;
  return Object.fromEntries(
    LANDMARK_NAMES.map((name: LandmarkName) => {
      const part = proposals[name];
      const value = given[name] ?? (part.value === null ? null : back(part.value));
      return [name, { ...part, value }];
    }),
  ) as unknown as LandmarkProposals;
}
