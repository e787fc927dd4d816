import { type BackDocument, type BackSurface, buildBack } from '../back/index.ts';
import { buildTree, type Tree } from '../bar/index.ts';
import { type PatternDocument, resolvePattern } from '../pattern/index.ts';
import type { Setup } from '../seating/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { type Fit, type FitOptions, fitTree } from './fit.ts';

/** The documents of one fit, already read and checked. */
export interface FitDocuments {
  readonly pattern: PatternDocument;
  readonly back: BackDocument;
  readonly setup: Setup;
  /** The mesh a scan names, file coordinates. */
  readonly mesh?: TriangleMesh;
}

/** Tree and back of the documents, to be kept while only the other changes. */
export function prepareFit({ pattern, back, setup, mesh }: FitDocuments): { tree: Tree; back: BackSurface } {
  return {
    tree: buildTree(resolvePattern(pattern)),
    back: buildBack(back, { legForward: setup.legForward, ...(mesh === undefined ? {} : { mesh }) }),
  };
}

/** One way in for command line and bench: the same documents give the same numbers. */
export function fitDocuments(documents: FitDocuments, options: FitOptions = {}): Fit {
  const { tree, back } = prepareFit(documents);
  return fitTree(tree, back, documents.setup, options);
}
