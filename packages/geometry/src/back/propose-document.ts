import type { BackRecord } from './back-record.ts';
import type { Measured, Vec3 } from './back-surface.ts';
import type { CleanStep } from './clean-steps.ts';
import { LANDMARK_NAMES } from './propose-landmarks.ts';
import { type Axis, oppositeAxis } from './propose-part.ts';
import type { ScanProposal } from './propose-scan.ts';
import type { ScanUnit } from './propose-unit.ts';
import type { LandmarkName } from './scan-landmarks.ts';
import { type ScanBackDocument, scanBackSchema } from './scan-schema.ts';

/** What a person decided, and what no shape can tell. */
export interface ScanOverrides {
  readonly name: string;
  /** Name of the mesh file beside the document. */
  readonly mesh: string;
  readonly measured: Measured;
  readonly record?: BackRecord;
  readonly notes?: string;
  readonly unit?: ScanUnit;
  readonly axes?: { readonly tail: Axis; readonly right: Axis; readonly up: Axis };
  readonly mirrored?: boolean;
  /** Clean-up steps that were agreed to. */
  readonly cleaning?: readonly CleanStep[];
  /** Side of a cloud's cells in the file's unit. */
  readonly pointSpacing?: number;
  /** Null: no turn, whatever was proposed. */
  readonly turn?: readonly number[] | null;
  /** Marked by a person, in the file's own coordinates. */
  readonly landmarks?: Partial<Record<LandmarkName, Vec3>>;
}

/**
 * The scan document of a proposal that somebody confirmed. Landmarks from the shape are written down and named in
 * `proposedLandmarks`, so that every result goes on saying so. They are left out when unit, axes or turn were changed:
 * they belong to the proposal's own.
 * @throws ZodError for overrides that no scan document can hold
 */
export function scanDocumentFromProposal(proposal: ScanProposal, overrides: ScanOverrides): ScanBackDocument {
  const { name, mesh, measured, record, notes } = overrides;
  const mirrored = overrides.mirrored ?? proposal.mirrored.value;
  const axes = overrides.axes ?? proposedAxes(proposal, mirrored);
  const turn = overrides.turn === undefined ? (overrides.axes ? null : proposal.turn.value) : overrides.turn;
  const isChanged =
    mirrored !== proposal.mirrored.value ||
    (overrides.unit !== undefined && overrides.unit !== proposal.unit.value) ||
    axes.tail !== proposal.tail.value ||
    axes.right !== proposal.right.value ||
    axes.up !== proposal.up.value ||
    JSON.stringify(turn) !== JSON.stringify(proposal.turn.value);
  const marked = overrides.landmarks ?? {};
  const landmarks: Partial<Record<LandmarkName, Vec3>> = {};
  const proposedLandmarks: LandmarkName[] = [];
  for (const key of LANDMARK_NAMES) {
    const { value, given } = proposal.landmarks[key];
    const byHand = marked[key] ?? (given ? value : undefined);
    if (byHand !== undefined && byHand !== null) landmarks[key] = byHand;
    else if (!isChanged && value !== null) {
      landmarks[key] = value;
      proposedLandmarks.push(key);
    }
  }
  return scanBackSchema.parse({
    schema: 'barwright/back/1',
    kind: 'scan',
    name,
    ...(notes === undefined ? {} : { notes }),
    mesh,
    unit: overrides.unit ?? proposal.unit.value,
    axes,
    ...(turn === null ? {} : { turn: [...turn] }),
    ...(mirrored ? { mirrored } : {}),
    ...(overrides.pointSpacing === undefined ? {} : { pointSpacing: overrides.pointSpacing }),
    ...(overrides.cleaning === undefined || overrides.cleaning.length === 0
      ? {}
      : { cleaning: [...overrides.cleaning] }),
    landmarks,
    ...(proposedLandmarks.length === 0 ? {} : { proposedLandmarks }),
    measured,
    ...(record === undefined ? {} : { record }),
  });
}

/** Left and right change places with `mirrored`. */
function proposedAxes({ tail, right, up, mirrored: proposed }: ScanProposal, mirrored: boolean) {
  return {
    tail: tail.value,
    right: mirrored === proposed.value ? right.value : oppositeAxis(right.value),
    up: up.value,
  };
}
