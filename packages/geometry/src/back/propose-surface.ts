import { meshFromPoints } from '../surface/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { type CloudUp, findCloudUp } from './propose-cloud-up.ts';
import { impliedUp, type OrientationHints, UP_WITHIN_DEG } from './propose-orientation.ts';
import { type Axis, axisVector, nearestAxis, type Proposal } from './propose-part.ts';
import { isCloud, refuseFew } from './scan-surface.ts';

/** Below this a second direction shows nearly as smooth a sheet. */
const CLEAR_OF_NEXT = 1.3;
const UNDERSIDE_SHARE = 0.1;

/**
 * The triangles of a scan, or the surface of its cloud seen from above; `up` null when nothing had to be found for it. An axis of the
 * file near the found direction is taken for it, as it is for meshes.
 * @throws InputError as meshFromPoints, and for fewer points than a back needs
 */
export function proposeSurface(
  mesh: TriangleMesh,
  hints: OrientationHints,
): { mesh: TriangleMesh; up: CloudUp | null } {
  if (!isCloud(mesh)) return { mesh, up: null };
  refuseFew(mesh.positions);
  const named = hints.up ?? impliedUp(hints);
  if (named !== undefined) return { mesh: meshFromPoints(mesh.positions, { up: axisVector(named) }).mesh, up: null };
  const found = findCloudUp(mesh.positions);
  const { axis, deg } = nearestAxis(found.up);
  const up = deg <= UP_WITHIN_DEG ? axisVector(axis) : found.up;
  return { mesh: meshFromPoints(mesh.positions, { up }).mesh, up: found };
}

/** What the points themselves say of up, added to what their surface says. */
export function withCloud(up: Proposal<Axis>, cloud: CloudUp | null): Proposal<Axis> {
  if (cloud === null) return up;
  const { scatterShare, nextShare, belowShare } = cloud;
  const ratio = nextShare / scatterShare;
  const below = (100 * belowShare).toFixed(0);
  const reason =
    `Of the ways to look at the points, along this one they lie most nearly in one sheet (they scatter ${scatterShare.toPrecision(2)} of a ` +
    `cell, along the next ${nextShare.toPrecision(2)}), with ${below} % of them below it. ${up.reason}`;
  const isDoubtful = ratio < CLEAR_OF_NEXT || belowShare > UNDERSIDE_SHARE;
  const confidence = isDoubtful ? 'unsure' : up.confidence === 'clear' ? 'likely' : up.confidence;
  return { ...up, reason, confidence };
}
