import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { refuse } from './refuse.ts';

/** Refuses to write what a reader would refuse to read: no triangles, a coordinate that isn't finite, an index too large. */
export function checkMesh(mesh: TriangleMesh): void {
  const { positions, triangles } = mesh;
  const vertices = positions.length / 3;
  const remedy = 'This is a fault in what made the mesh, not in the file.';
  if (triangles.length === 0) refuse('empty', 'mesh', '0 triangles', 'at least one triangle', remedy);
  const badIndex = triangles.findIndex((vertex) => vertex >= vertices);
  if (badIndex >= 0) {
    const place = `triangle ${Math.floor(badIndex / 3)}`;
    refuse('out-of-range', place, triangles[badIndex], `vertex indices below ${vertices}`, remedy);
  }
  const bad = positions.findIndex((value) => !Number.isFinite(value));
  if (bad < 0) return;
  refuse('not-a-number', `vertex ${Math.floor(bad / 3)}`, positions[bad], 'finite coordinates', remedy);
}
