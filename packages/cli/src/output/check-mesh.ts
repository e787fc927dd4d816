import {
  boundaryEdges,
  LEAST_CLOUD_POINTS,
  medianEdgeLength,
  meshBounds,
  type PatternDifference,
} from '@barwright/geometry';
import type { InputFile } from '../files/input-file.ts';
import { readMeshFile } from '../files/load-decoders.ts';
import type { Warning } from './envelope.ts';

export interface MeshFacts {
  readonly format: string;
  /** 'points': a cloud, of which a surface has yet to be made. */
  readonly kind: 'mesh' | 'points';
  readonly vertices: number;
  readonly triangles: number;
  readonly hasColours: boolean;
  /** In the file's own unit and axes, which a mesh file doesn't name. */
  readonly lowestCorner: readonly number[];
  readonly highestCorner: readonly number[];
  /** Null for a cloud, which has no edges. */
  readonly medianEdge: number | null;
  /** Of a cloud: about how far its points lie apart, seen from where they spread widest; null for a mesh. */
  readonly pointSpacing: number | null;
  readonly boundaryEdges: number;
}

export interface CheckResult {
  readonly kind: 'pattern' | 'back' | 'setup' | 'riding' | 'rider' | 'shelf' | 'lesson' | 'bench' | 'mesh';
  readonly documentSchema: string | null;
  readonly name: string;
  readonly values: Readonly<Record<string, number | string | boolean | null>>;
  readonly differences: readonly Omit<PatternDifference, 'label'>[];
  readonly mesh: MeshFacts | null;
}

/** Reads a mesh and counts what is in it. */
export async function checkMesh(input: InputFile): Promise<{ result: CheckResult; warnings: Warning[] }> {
  const { kind, mesh, colours, format, warnings } = await readMeshFile(input);
  const bounds = meshBounds(mesh);
  const facts: MeshFacts = {
    format,
    kind,
    vertices: mesh.positions.length / 3,
    triangles: mesh.triangles.length / 3,
    hasColours: colours !== null,
    lowestCorner: [...bounds.min],
    highestCorner: [...bounds.max],
    medianEdge: kind === 'points' ? null : medianEdgeLength(mesh),
    pointSpacing: kind === 'points' ? spacingOf(bounds.min, bounds.max, mesh.positions.length / 3) : null,
    boundaryEdges: boundaryEdges(mesh).reduce((sum, flag) => sum + flag, 0),
  };
  return {
    result: { kind: 'mesh', documentSchema: null, name: input.file, values: {}, differences: [], mesh: facts },
    warnings: [...warnings, ...(kind === 'points' ? [cloudNote(mesh.positions.length / 3)] : [])].map((sentence) => ({
      field: null,
      sentence,
    })),
  };
}

/** Root of the largest side of the box over the points: right for a back that fills its box, too large for a whole horse. */
function spacingOf(min: readonly number[], max: readonly number[], points: number): number {
  const [a = 0, b = 0] = max.map((high, k) => high - min[k]!).sort((x, y) => y - x);
  return Math.sqrt((a * b) / points);
}

const cloudNote = (points: number): string =>
  points < LEAST_CLOUD_POINTS
    ? `A cloud of ${points} points: too few for a back, which needs ${LEAST_CLOUD_POINTS}.`
    : 'A cloud of points without triangles: `barwright back` makes a surface of it and says what was bridged or left out.';
