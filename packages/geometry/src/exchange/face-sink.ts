import { IndexList } from './index-list.ts';
import type { ReadLimits } from './raw-mesh.ts';
import { refuse } from './refuse.ts';
import { triangulatePolygon } from './triangulate-polygon.ts';

/** Takes faces of any number of corners, checks their indices and keeps them as triangles. */
export class FaceSink {
  readonly triangles: IndexList;
  readonly vertexCount: number;
  /** Faces of 0, 1 or 2 corners, which enclose nothing. */
  dropped = 0;
  polygons = 0;
  readonly #positions: Float64Array;

  constructor(positions: Float64Array, expectedTriangles: number, limits: ReadLimits) {
    this.#positions = positions;
    this.vertexCount = positions.length / 3;
    this.triangles = new IndexList(expectedTriangles, limits);
  }

  /** `place` is asked for only when the face has to be refused. */
  addFace(corners: readonly number[], place: () => string): void {
    for (const corner of corners) {
      if (!(corner >= 0 && corner < this.vertexCount && Number.isInteger(corner))) this.refuseIndex(corner, place());
    }
    if (corners.length === 3) this.triangles.push(corners[0], corners[1], corners[2]);
    else if (corners.length < 3) this.dropped++;
    else this.#addPolygon(corners);
  }

  refuseIndex(got: number | string, place: string): never {
    const expected = `vertex indices from 0 to ${this.vertexCount - 1}`;
    refuse('out-of-range', place, got, expected, 'Export the mesh again; for a binary file check the byte order.');
  }

  warnings(): string[] {
    const warnings: string[] = [];
    if (this.dropped > 0) warnings.push(`${this.dropped} faces with fewer than three corners were left out.`);
    if (this.polygons > 0)
      warnings.push(`${this.polygons} faces with more than three corners were split into triangles.`);
    return warnings;
  }

  #addPolygon(corners: readonly number[]): void {
    this.polygons++;
    const split = triangulatePolygon(this.#positions, corners);
    for (let i = 0; i < split.length; i += 3) this.triangles.push(split[i], split[i + 1], split[i + 2]);
  }
}
