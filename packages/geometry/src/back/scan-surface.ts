import { InputError } from '../numeric/index.ts';
import { type MeshFromPoints, meshFromPoints } from '../surface/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { Vec3 } from './back-surface.ts';
import { turnFromAxes } from './scan-axes.ts';
import { SCAN_UNIT_MM, type ScanBackDocument } from './scan-schema.ts';

/** Our own working judgement, no source: over a back of 0.3 m2 so many points lie 17 mm apart, and its cells are 35 mm wide. */
export const LEAST_CLOUD_POINTS = 1000;
/** A cell wider than this smooths the withers away, mm; our own judgement, no source. */
export const WIDEST_CLOUD_CELL_MM = 40;

/** True for a scan without triangles: its points have yet to be made a surface. */
export const isCloud = ({ positions, triangles }: TriangleMesh): boolean =>
  triangles.length === 0 && positions.length > 0;

/** How a scan lies in its file. */
export type ScanPlace = Pick<ScanBackDocument, 'axes' | 'unit' | 'turn' | 'mirrored' | 'pointSpacing'>;

/**
 * The surface of a scan in the file's own coordinates: its triangles as they are, or, of a cloud, the upper surface through its points,
 * with what was done to make it: how many points it stands on, how many lay below, how many cells were bridged where there was
 * none, how far the points scatter.
 * @throws InputError as meshFromPoints and turnFromAxes; 'out-of-range' for fewer than 1000 points or cells wider than 40 mm
 */
export function scanSurface(place: ScanPlace, mesh: TriangleMesh): { mesh: TriangleMesh; warnings: string[] } {
  if (!isCloud(mesh)) return { mesh, warnings: [] };
  const turn = turnFromAxes(place.axes, place.unit, place.turn, place.mirrored);
  const unitMm = SCAN_UNIT_MM[place.unit];
  const made = meshCloud(mesh.positions, [turn[6], turn[7], turn[8]], unitMm, place.pointSpacing);
  return { mesh: made.mesh, warnings: cloudSentences(made, unitMm) };
}

/** The surface of a cloud; `spacing` in the file's unit. */
export function meshCloud(positions: Float64Array, up: Vec3, unitMm: number, spacing?: number): MeshFromPoints {
  refuseFew(positions);
  const made = meshFromPoints(positions, { up, ...(spacing === undefined ? {} : { spacing }) });
  const sideMm = made.spacing * unitMm;
  if (sideMm <= WIDEST_CLOUD_CELL_MM) return made;
  throw new InputError({
    code: 'out-of-range',
    field: spacing === undefined ? 'mesh' : 'pointSpacing',
    got: `cells ${sideMm.toPrecision(3)} mm wide`,
    expected: `cells of at most ${WIDEST_CLOUD_CELL_MM} mm, about two points each way`,
    remedy: 'Check the unit; crop the scan to the back, or scan it again with more points.',
  });
}

export function refuseFew(positions: Float64Array): void {
  const count = positions.length / 3;
  if (count >= LEAST_CLOUD_POINTS) return;
  throw new InputError({
    code: 'out-of-range',
    field: 'mesh',
    got: `${count} points`,
    expected: `at least ${LEAST_CLOUD_POINTS} points over the back`,
    remedy: 'Scan the back again with more points, or trace it by hand.',
  });
}

function cloudSentences(made: MeshFromPoints, unitMm: number): string[] {
  const { pointsUsed, pointsBelow, bridged, mesh } = made;
  const mm = (value: number): string => (value * unitMm).toPrecision(2);
  const said = [
    `A surface was made of ${pointsUsed} points, seen from above in cells of ${mm(made.spacing)} mm; they scatter ${mm(made.scatter)} mm about it (median, within a cell).`,
  ];
  if (pointsBelow > 0) said.push(`${pointsBelow} points lay below it and were left out: legs, floor, underside.`);
  if (bridged > 0) {
    const share = ((300 * bridged) / mesh.positions.length).toPrecision(2);
    said.push(
      `${bridged} cells without points (${share} %) were bridged from their neighbours: nobody measured there.`,
    );
  }
  return said;
}
