import { InputError, multiplyMatrices, transformPoint } from '../numeric/index.ts';
import { type CleanMeshReport, cleanMesh } from '../surface/clean-mesh.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { BackSurface } from './back-surface.ts';
import { bladeBulgeHeightMm } from './blade-bulge.ts';
import { type BladePositions, STANDING } from './blades.ts';
import { buildScanBack } from './build-scan-back.ts';
import { buildSectionsBack } from './build-sections-back.ts';
import { buildTracingsBack } from './build-tracings-back.ts';
import { cleanScan } from './clean-scan.ts';
import type { BackDocument } from './read-back.ts';
import { SCAN_UNIT_MM, type ScanBackDocument } from './scan-schema.ts';
import { scanSurface } from './scan-surface.ts';

export type LegForward = 'none' | 'left' | 'right' | 'both';

export interface BackSources {
  /** The mesh or cloud of points (no triangles) a scan document names, in the file's own coordinates. */
  readonly mesh?: TriangleMesh;
  readonly legForward?: LegForward;
}

/** A patch under the shoulder's skin for scans that state none: TRADE 5's average horse, invented. */
const SCAN_BULGE_MM = 12;
const ASSUMED_SWING_MM = 55;

/**
 * The back of a document of any kind. A scan's cloud is made a surface, the clean-up it names is applied, and both are told in the
 * warnings. Sections with the leg forward move their raised patch; a scan or tracings have theirs where
 * the horse stood, so the leg forward adds the patch between the standing edge and the swung one.
 * @throws InputError 'missing' for a scan without its mesh, 'ambiguous' for tracings with open questions, and all that
 * sections, cleaning, scans and tracings throw
 */
export function buildBack(doc: BackDocument, sources: BackSources = {}): BackSurface {
  const legs = sources.legForward ?? 'none';
  if (doc.kind === 'sections') return buildSectionsBack(doc, bladesOf(doc.bladeSwingMm, legs));
  if (doc.kind === 'tracings') {
    return buildTracingsBack(doc, bladesOf(doc.bladeSwingMm ?? ASSUMED_SWING_MM, legs)).back;
  }
  if (sources.mesh === undefined) {
    throw new InputError({
      code: 'missing',
      field: 'mesh',
      got: doc.mesh,
      expected: 'the mesh file beside this document',
      remedy: `Open ${doc.mesh} together with the document.`,
    });
  }
  return buildFromMesh(doc, sources.mesh, legs);
}

function buildFromMesh(doc: ScanBackDocument, raw: TriangleMesh, legs: LegForward): BackSurface {
  const surface = scanSurface(doc, raw);
  const cleaned = cleanOnRequest(doc, surface.mesh);
  const { mesh, report } = cleanMesh(cleaned.mesh);
  const standing = buildScanBack(doc, mesh);
  const warnings = [
    ...surface.warnings,
    ...cleaned.warnings,
    ...cleaningWarnings(report),
    ...mirroredWarnings(doc),
    ...standing.report.warnings,
  ];
  if (legs === 'none') return withWarnings(standing.back, warnings);
  const swung = swingBlades(doc, mesh, standing.back, bladesOf(doc.bladeSwingMm ?? ASSUMED_SWING_MM, legs));
  const { back } = buildScanBack({ ...doc, landmarks: inFile(standing.back) }, swung);
  return withWarnings(back, [
    ...warnings,
    'Leg forward on a scan: an assumed patch is added behind the standing edge.',
  ]);
}

/** The steps that the document names, and what they did. */
function cleanOnRequest(doc: ScanBackDocument, mesh: TriangleMesh): { mesh: TriangleMesh; warnings: string[] } {
  const { cleaning = [] } = doc;
  if (cleaning.length === 0) return { mesh, warnings: [] };
  const done = cleanScan(mesh, cleaning, { unitMm: SCAN_UNIT_MM[doc.unit] });
  const said = done.steps.map(({ step, sentence }) => `Cleaned as the document asks (${step}): ${sentence}`);
  return { mesh: done.mesh, warnings: said };
}

const mirroredWarnings = ({ mirrored }: ScanBackDocument): string[] =>
  mirrored === true ? ['The scan is marked as saved mirrored: left and right were swapped back.'] : [];

/** The same back with its warnings; a view on it, since its accuracy is measured only when asked for. */
function withWarnings(back: BackSurface, warnings: readonly string[]): BackSurface {
  return Object.create(back, { warnings: { value: warnings, enumerable: true } }) as BackSurface;
}

function cleaningWarnings(report: CleanMeshReport): string[] {
  const said: string[] = [];
  const count = (n: number, what: string): void => {
    if (n > 0) said.push(`${n} ${what}.`);
  };
  count(report.zeroAreaFaces + report.needleFaces, 'triangles without area were left out');
  count(report.duplicateFaces, 'duplicate triangles were left out');
  return said;
}

/** Lifts the vertices that the swung patch covers and the standing one does not. File coordinates in and out. */
function swingBlades(
  doc: ScanBackDocument,
  mesh: TriangleMesh,
  back: BackSurface,
  blades: BladePositions,
): TriangleMesh {
  const heightMm = doc.bladeBulge?.heightMm ?? SCAN_BULGE_MM;
  const toFile = inverseSimilarity(back.fileToHorse);
  const positions = Float64Array.from(mesh.positions);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = transformPoint(back.fileToHorse, positions[i]!, positions[i + 1]!, positions[i + 2]!);
    const [standingX, ,] = y < 0 ? back.landmarks.bladeEdgeLeft : back.landmarks.bladeEdgeRight;
    const edgeXMm = standingX + (y < 0 ? blades.leftMm : blades.rightMm);
    const added =
      bladeBulgeHeightMm({ heightMm, edgeXMm }, x, Math.abs(y)) -
      bladeBulgeHeightMm({ heightMm, edgeXMm: standingX }, x, Math.abs(y));
    if (added > 0) positions.set(transformPoint(toFile, x, y, z + added), i);
  }
  return { positions, triangles: mesh.triangles };
}

/** Landmarks as the file has them, so that the frame stays the standing one's. */
function inFile(back: BackSurface): ScanBackDocument['landmarks'] {
  const toFile = inverseSimilarity(back.fileToHorse);
  const { bladeEdgeLeft, bladeEdgeRight, withersTop, lowPoint, lastRib } = back.landmarks;
  const place = (p: readonly [number, number, number]) => transformPoint(toFile, ...p);
  return {
    bladeEdgeLeft: place(bladeEdgeLeft),
    bladeEdgeRight: place(bladeEdgeRight),
    withersTop: place(withersTop),
    lowPoint: place(lowPoint),
    lastRib: place(lastRib),
  };
}

/** Inverse of rotation, uniform scale and translation: transpose over the squared scale. */
function inverseSimilarity(m: readonly number[]): number[] {
  const scale2 = m[0]! ** 2 + m[4]! ** 2 + m[8]! ** 2;
  const back = [
    m[0]! / scale2,
    m[4]! / scale2,
    m[8]! / scale2,
    0,
    m[1]! / scale2,
    m[5]! / scale2,
    m[9]! / scale2,
    0,
    m[2]! / scale2,
    m[6]! / scale2,
    m[10]! / scale2,
    0,
    0,
    0,
    0,
    1,
  ];
  return multiplyMatrices(back, [1, 0, 0, -m[3]!, 0, 1, 0, -m[7]!, 0, 0, 1, -m[11]!, 0, 0, 0, 1]);
}

function bladesOf(swingMm: number, legs: LegForward): BladePositions {
  if (legs === 'none') return STANDING;
  return {
    leftMm: legs === 'right' ? 0 : swingMm,
    rightMm: legs === 'left' ? 0 : swingMm,
  };
}
