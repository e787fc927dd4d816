import { InputError } from '../numeric/index.ts';
import { type CleanMeshReport, cleanMesh } from '../surface/clean-mesh.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { type BackSurface, viewOn } from './back-surface.ts';
import { moveBlades } from './blades.ts';
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

/**
 * The back of a document of any kind. A scan's cloud is made a surface, the clean-up it names is applied, and both are
 * told in the warnings. Legs forward move the blades of the standing back (see putLegsForward).
 * @throws InputError 'missing' for a scan without its mesh, 'ambiguous' for tracings with open questions, and all that
 * sections, cleaning, scans and tracings throw
 */
export function buildBack(doc: BackDocument, sources: BackSources = {}): BackSurface {
  return putLegsForward(buildStanding(doc, sources.mesh), sources.legForward ?? 'none');
}

/** A standing back with its blades swung back by what it says of them; what nobody measured is said to be assumed. */
export function putLegsForward(standing: BackSurface, legs: LegForward): BackSurface {
  if (legs === 'none') return standing;
  const { swingMm, assumed } = standing.blades;
  const moved = moveBlades(standing, {
    leftMm: legs === 'right' ? 0 : swingMm,
    rightMm: legs === 'left' ? 0 : swingMm,
  });
  if (standing.kind === 'sections') return moved;
  const what = assumed.length === 0 ? 'the patch that the document states' : 'an assumed patch';
  const said = `Leg forward on ${standing.kind === 'scan' ? 'a scan' : 'tracings'}: ${what} is added behind the standing edge.`;
  return viewOn(moved, { warnings: [...standing.warnings, said] });
}

function buildStanding(doc: BackDocument, mesh: TriangleMesh | undefined): BackSurface {
  if (doc.kind === 'sections') return buildSectionsBack(doc);
  if (doc.kind === 'tracings') return buildTracingsBack(doc).back;
  if (mesh !== undefined) return buildFromMesh(doc, mesh);
  throw new InputError({
    code: 'missing',
    field: 'mesh',
    got: doc.mesh,
    expected: 'the mesh file beside this document',
    remedy: `Open ${doc.mesh} together with the document.`,
  });
}

function buildFromMesh(doc: ScanBackDocument, raw: TriangleMesh): BackSurface {
  const surface = scanSurface(doc, raw);
  const cleaned = cleanOnRequest(doc, surface.mesh);
  const { mesh, report } = cleanMesh(cleaned.mesh);
  const standing = buildScanBack(doc, mesh);
  return viewOn(standing.back, {
    warnings: [
      ...surface.warnings,
      ...cleaned.warnings,
      ...cleaningWarnings(report),
      ...mirroredWarnings(doc),
      ...standing.report.warnings,
    ],
  });
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

function cleaningWarnings(report: CleanMeshReport): string[] {
  const said: string[] = [];
  const count = (n: number, what: string): void => {
    if (n > 0) said.push(`${n} ${what}.`);
  };
  count(report.zeroAreaFaces + report.needleFaces, 'triangles without area were left out');
  count(report.duplicateFaces, 'duplicate triangles were left out');
  return said;
}
