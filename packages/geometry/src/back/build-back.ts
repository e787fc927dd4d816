import { InputError } from '../numeric/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { BackSurface } from './back-surface.ts';
import { type BladePositions, buildSectionsBack, STANDING } from './build-sections-back.ts';
import type { BackDocument } from './read-back.ts';

export interface BackSources {
  /** The mesh a scan document names, in the file's own coordinates. */
  readonly mesh?: TriangleMesh;
  readonly legForward?: 'none' | 'left' | 'right' | 'both';
}

/** The back of a document of any kind. Throws InputError: missing mesh, inconsistent tables, and all that scans throw. */
export function buildBack(doc: BackDocument, sources: BackSources = {}): BackSurface {
  if (doc.kind === 'sections') return buildSectionsBack(doc, bladesOf(doc.bladeSwingMm, sources.legForward ?? 'none'));
  throw new InputError({
    code: 'unsupported',
    field: 'kind',
    got: doc.kind,
    expected: 'sections',
    remedy: `Scans are read with their mesh ${sources.mesh === undefined ? '(none given)' : ''}.`,
  });
}

function bladesOf(swingMm: number, legs: 'none' | 'left' | 'right' | 'both'): BladePositions {
  if (legs === 'none') return STANDING;
  return {
    leftMm: legs === 'right' ? 0 : swingMm,
    rightMm: legs === 'left' ? 0 : swingMm,
  };
}
