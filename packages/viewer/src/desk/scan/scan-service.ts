import {
  type BackRecord,
  buildBack,
  buildTriangleTree,
  CLEAN_STEPS,
  type CleanStep,
  type CleanStepReport,
  cleanScan,
  createNearestHit,
  createNearestQuery,
  InputError,
  type Measured,
  type RawMesh,
  readBack,
  readMesh,
  type ScanProposal,
  type ScanUnit,
  scanDocumentFromProposal,
  scanSurface,
  type TriangleMesh,
  withoutOwner,
} from '@barwright/geometry';
import { loadDecoders } from '../../files/load-decoders.ts';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import { type DrawnMesh, drawnMesh, middleOf } from './drawing-mesh.ts';
import { proposeFor } from './propose-for.ts';
import type { Choices } from './scan-choices.ts';
import { type Point, UNIT_MM, type Way } from './scan-way.ts';
import { takenOut } from './taken-out.ts';

/** What was read, before anybody says anything about it. */
export interface ScanFacts {
  readonly kind: RawMesh['kind'];
  readonly format: RawMesh['format'];
  readonly points: number;
  readonly triangles: number;
  readonly warnings: readonly string[];
  /** Null for a cloud: its surface is made once it is known which way is up. */
  readonly drawn: DrawnMesh | null;
}

export interface ScanCleaned {
  /** How a cloud was made a surface; empty for triangles. */
  readonly surfaceSays: readonly string[];
  readonly steps: readonly CleanStepReport[];
  readonly drawn: DrawnMesh;
  readonly takenOut: DrawnMesh;
}

/** What a scan document holds beside choices and proposal. */
export interface ScanPaper {
  readonly name: string;
  readonly measured: Measured;
  readonly record: BackRecord;
  readonly withOwner: boolean;
}

interface HeldScan {
  readonly id: number;
  readonly fileName: string;
  readonly raw: RawMesh;
  readonly centre: Point;
  /** The surface as it is cleaned at the moment, in the file's coordinates. */
  surface: TriangleMesh;
  /** Those of the steps that did something: what a document has to name. */
  steps: readonly CleanStep[];
  nearest: ((p: Point) => Point) | null;
}

/** One scan at a time lies on the desk; its file is read once and stays here. */
let held: HeldScan | null = null;

/** The scan was read by a worker that has been stopped since. */
function heldScan(id: number): HeldScan {
  if (held?.id === id) return held;
  throw new InputError({
    code: 'missing',
    field: 'scan',
    ...SCAN_TEXTS.gone,
  });
}

export const scanService = {
  async scanRead(id: number, bytes: Uint8Array, fileName: string): Promise<ScanFacts> {
    held = null;
    const raw = readMesh(bytes, fileName, undefined, await loadDecoders(bytes));
    const surface = raw.mesh;
    const centre = middleOf(surface);
    held = { id, fileName, raw, centre, surface, steps: [], nearest: null };
    return {
      kind: raw.kind,
      format: raw.format,
      points: raw.mesh.positions.length / 3,
      triangles: raw.mesh.triangles.length / 3,
      warnings: raw.warnings,
      drawn: raw.kind === 'points' ? null : drawnMesh(surface, centre),
    };
  },

  scanPropose(id: number, { unit, way, marks }: Choices): ScanProposal {
    return proposeFor(heldScan(id).raw, unit ?? undefined, way, marks);
  },

  /** The surface as it would be used; of a cloud it is made first, as seen from above by the way in force. */
  scanClean(id: number, unit: ScanUnit, way: Way, leftOut: readonly CleanStep[]): ScanCleaned {
    const scan = heldScan(id);
    const options = { unitMm: UNIT_MM[unit] };
    const wanted = CLEAN_STEPS.filter((step) => !leftOut.includes(step));
    const { tail, right, up, turn, isMirrored } = way;
    const place = {
      axes: { tail, right, up },
      unit,
      mirrored: isMirrored,
      ...(turn === null ? {} : { turn: [...turn] }),
    };
    const { mesh, warnings } = scanSurface(place, scan.raw.mesh);
    const cleaned = cleanScan(mesh, wanted, options);
    const before = wanted.includes('weld') ? cleanScan(mesh, ['weld'], options).mesh : mesh;
    scan.surface = cleaned.mesh;
    scan.nearest = null;
    scan.steps = cleaned.steps
      .filter(({ step, changed }) => changed > 0 && step !== 'pinholes')
      .map(({ step }) => step);
    return {
      steps: cleaned.steps,
      surfaceSays: warnings,
      drawn: drawnMesh(cleaned.mesh, scan.centre),
      takenOut: drawnMesh(takenOut(before, cleaned.mesh), scan.centre, Number.POSITIVE_INFINITY),
    };
  },

  /** The point of the whole surface nearest to one that was touched on the thinned drawing. */
  scanNearest(id: number, p: Point): Point {
    const scan = heldScan(id);
    scan.nearest ??= nearestOn(scan.surface);
    return scan.nearest(p);
  },

  /** The document of the proposal in force; with `tried` its back is built too, so that what can't be is said here. */
  scanDocument(id: number, choices: Choices, paper: ScanPaper, tried: boolean): unknown {
    const { raw, fileName, steps } = heldScan(id);
    const { name, measured, record, withOwner } = paper;
    const proposal = proposeFor(raw, choices.unit ?? undefined, choices.way, choices.marks);
    const written = scanDocumentFromProposal(proposal, {
      name,
      mesh: fileName,
      measured,
      record,
      cleaning: steps,
    });
    const document = readBack(withOwner ? written : withoutOwner(written), fileName);
    if (tried) buildBack(document, { mesh: raw.mesh });
    return document;
  },

  scanForget(id: number): void {
    if (held?.id === id) held = null;
  },
};

function nearestOn(surface: TriangleMesh): (p: Point) => Point {
  const nearest = createNearestQuery(surface, buildTriangleTree(surface));
  const hit = createNearestHit();
  return (p) => {
    nearest(p[0], p[1], p[2], hit);
    return hit.triangle < 0 ? p : [hit.x, hit.y, hit.z];
  };
}
