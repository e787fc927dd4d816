import { ExactWelder } from '../surface/exact-welder.ts';
import { IndexList } from './index-list.ts';
import { precisionWarnings } from './precision-warnings.ts';
import { MAX_COORDINATE, type RawMesh, type ReadLimits } from './raw-mesh.ts';
import { refuse, refuseCoordinate } from './refuse.ts';

/** Collects STL facets, which repeat every vertex, into an indexed mesh: identical coordinates become one vertex. */
export class StlFacets {
  readonly #welder = new ExactWelder();
  readonly #triangles: IndexList;
  #corners = 0;
  readonly #facet = [0, 0, 0];

  constructor(expected: number, limits: ReadLimits) {
    this.#triangles = new IndexList(expected, limits);
  }

  get count(): number {
    return this.#triangles.length / 3;
  }

  addVertex(x: number, y: number, z: number): void {
    if (!(Math.abs(x) <= MAX_COORDINATE && Math.abs(y) <= MAX_COORDINATE && Math.abs(z) <= MAX_COORDINATE)) {
      refuseCoordinate(`facet ${this.count}, vertex ${3 * this.count + this.#corners}`, x, y, z);
    }
    this.#facet[this.#corners++] = this.#welder.add(x, y, z);
    if (this.#corners < 3) return;
    this.#corners = 0;
    this.#triangles.push(this.#facet[0], this.#facet[1], this.#facet[2]);
  }

  finish(warnings: readonly string[]): RawMesh {
    if (this.count === 0) refuse('empty', 'facets', '0 facets', 'at least one facet', 'Export the mesh again as STL.');
    const mesh = { positions: this.#welder.positions(), triangles: this.#triangles.finish() };
    return {
      kind: 'mesh',
      mesh,
      colours: null,
      format: 'stl',
      warnings: [...warnings, ...precisionWarnings(mesh.positions)],
    };
  }
}
