import {
  type BackSurface,
  buildBack,
  buildTree,
  type PatternDocument,
  READ_LIMITS,
  readBack,
  readMesh,
  resolvePattern,
  type Setup,
  type Tree,
} from '@barwright/geometry';
import { loadDecoders } from '../../files/load-decoders.ts';
import type { OpenedBack } from '../../state/documents.ts';

/** What lies on the bench, as a study's worker is told it. */
export interface OnBench {
  readonly pattern: PatternDocument;
  readonly setup: Setup;
  /** The same for the same opened back, so that its shape is worked out once. */
  readonly backId: number;
  readonly back: OpenedBack;
}

export interface BuiltBench {
  readonly tree: Tree;
  /** As the horse stood, whatever the setup's legs are. */
  readonly standing: BackSurface;
}

let held: { readonly id: number; readonly standing: BackSurface } | null = null;

/** Tree and standing back of the bench; the back is kept until another one comes. */
export async function benchOf({ pattern, backId, back }: OnBench): Promise<BuiltBench> {
  const tree = buildTree(resolvePattern(pattern));
  if (held?.id !== backId) held = { id: backId, standing: await standingOf(back) };
  return { tree, standing: held.standing };
}

async function standingOf({ name, json, mesh }: OpenedBack): Promise<BackSurface> {
  const document = readBack(json, name);
  if (mesh === null) return buildBack(document);
  const decoders = await loadDecoders(mesh.bytes);
  return buildBack(document, { mesh: readMesh(mesh.bytes, mesh.fileName, READ_LIMITS, decoders).mesh });
}
