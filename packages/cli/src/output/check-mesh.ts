import { boundaryEdges, medianEdgeLength, meshBounds, type PatternDifference, readMesh } from '@barwright/geometry';
import type { InputFile } from '../files/input-file.ts';
import type { Warning } from './envelope.ts';

export interface MeshFacts {
  readonly format: string;
  readonly vertices: number;
  readonly triangles: number;
  readonly hasColours: boolean;
  /** In the file's own unit and axes, which a mesh file doesn't name. */
  readonly lowestCorner: readonly number[];
  readonly highestCorner: readonly number[];
  readonly medianEdge: number;
  readonly boundaryEdges: number;
}

export interface CheckResult {
  readonly kind: 'pattern' | 'back' | 'setup' | 'lesson' | 'mesh';
  readonly documentSchema: string | null;
  readonly name: string;
  readonly values: Readonly<Record<string, number | string | boolean | null>>;
  readonly differences: readonly Omit<PatternDifference, 'label'>[];
  readonly mesh: MeshFacts | null;
}

/** Reads a mesh and counts what is in it. */
export function checkMesh(input: InputFile): { result: CheckResult; warnings: Warning[] } {
  const { mesh, colours, format, warnings } = readMesh(input.bytes, input.file);
  const bounds = meshBounds(mesh);
  const facts: MeshFacts = {
    format,
    vertices: mesh.positions.length / 3,
    triangles: mesh.triangles.length / 3,
    hasColours: colours !== null,
    lowestCorner: [...bounds.min],
    highestCorner: [...bounds.max],
    // A cloud of points has no edges.
    medianEdge: mesh.triangles.length === 0 ? 0 : medianEdgeLength(mesh),
    boundaryEdges: boundaryEdges(mesh).reduce((sum, flag) => sum + flag, 0),
  };
  return {
    result: { kind: 'mesh', documentSchema: null, name: input.file, values: {}, differences: [], mesh: facts },
    warnings: warnings.map((sentence) => ({ field: null, sentence })),
  };
}
