import type { TriangleMesh } from '../surface/triangle-mesh.ts';

export type MeshFormat = 'ply' | 'stl' | 'obj' | 'glb' | '3mf' | 'xyz';

/** A mesh as its file has it: coordinates in the file's own unit and axes, nothing cleaned or turned. */
export interface RawMesh {
  /** 'points': a cloud, `mesh.triangles` is empty and a surface has yet to be made of it. */
  readonly kind: 'mesh' | 'points';
  readonly mesh: TriangleMesh;
  /** 3n values 0..255, red green blue by vertex, or null when the file has none. */
  readonly colours: Uint8Array | null;
  readonly format: MeshFormat;
  /** What was odd but could be read, one sentence each. */
  readonly warnings: readonly string[];
  /** Unit of the coordinates where the format or the file states one; a proposal only, exporters get it wrong. */
  readonly statedUnit?: 'mm' | 'cm' | 'm' | 'in';
  /** The axis that the format calls up; a proposal only, as scanners turn things at will. */
  readonly statedUp?: '+y' | '+z';
}

/** What a reader accepts before it stops; guards against files that would exhaust memory. */
export interface ReadLimits {
  readonly maxBytes: number;
  readonly maxTriangles: number;
}

export const READ_LIMITS: ReadLimits = Object.freeze({ maxBytes: 2 ** 31, maxTriangles: 20_000_000 });

/** Largest coordinate taken as a length: 1e9 of any unit is far beyond a scanner, and squares stay exact enough. */
export const MAX_COORDINATE = 1e9;
