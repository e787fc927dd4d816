import type { FaceSink } from './face-sink.ts';
import type { PlyElement } from './ply-header.ts';

/** Where the properties that we use stand within their element. */
export interface VertexRoles {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Red, green, blue, or empty. */
  readonly colour: readonly number[];
}

/** The data behind a PLY header, read element by element in the header's order. */
export interface PlyBody {
  /** Throws when the element can't fit in what is left of the file; called before any memory is taken for it. */
  checkRoom(element: PlyElement): void;
  /** Fills 3n coordinates and, when there are colours, 3n bytes. */
  readVertices(element: PlyElement, roles: VertexRoles, positions: Float64Array, colours: Uint8Array | null): void;
  /** `indices` is the position of the index list among the element's properties. */
  readFaces(element: PlyElement, indices: number, sink: FaceSink): void;
  skip(element: PlyElement): void;
  /** Bytes or lines left over after the last element, said in words; null when there are none. */
  leftOver(): string | null;
}
