import { DEFAULT_MATERIALS, type ResolvedPattern } from '../pattern/index.ts';
import type { Tree } from './tree.ts';
import { createUnderside } from './underside.ts';

/** The tree of a resolved pattern. Throws InputError where a section or the rock has no arc (see createUnderside). */
export function buildTree(pattern: ResolvedPattern): Tree {
  const right = createUnderside(pattern.right);
  return {
    name: pattern.name,
    left: pattern.left === pattern.right ? right : createUnderside(pattern.left),
    right,
    parts: pattern.shared,
    materials: { ...DEFAULT_MATERIALS, ...pattern.materials },
  };
}
