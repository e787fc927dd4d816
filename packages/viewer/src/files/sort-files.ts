import type { InputErrorDetails } from '@barwright/geometry';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';

/** A file that was read: a parsed document, or the bytes of a scan or of tracings. */
export type ReadFile =
  | { readonly kind: 'json'; readonly fileName: string; readonly json: unknown }
  | { readonly kind: 'mesh'; readonly fileName: string; readonly bytes: Uint8Array }
  | { readonly kind: 'tracings'; readonly fileName: string; readonly bytes: Uint8Array };

/** What a handful of opened files comes to. */
export interface SortedFiles {
  readonly benches: readonly { fileName: string; json: unknown }[];
  readonly patterns: readonly { fileName: string; json: unknown }[];
  readonly setups: readonly { fileName: string; json: unknown }[];
  readonly lessons: readonly { fileName: string; json: unknown }[];
  readonly riders: readonly { fileName: string; json: unknown }[];
  readonly ridings: readonly { fileName: string; json: unknown }[];
  readonly shelves: readonly { fileName: string; json: unknown }[];
  readonly backs: readonly {
    fileName: string;
    json: Readonly<Record<string, unknown>>;
    mesh: { fileName: string; bytes: Uint8Array } | null;
  }[];
  /** Scans that no document among the files names. */
  readonly looseMeshes: readonly { fileName: string; bytes: Uint8Array }[];
  /** Curves in CSV or SVG. */
  readonly tracings: readonly { fileName: string; bytes: Uint8Array }[];
  readonly refused: readonly InputErrorDetails[];
}

const KNOWN: Readonly<
  Record<string, 'benches' | 'patterns' | 'setups' | 'lessons' | 'riders' | 'ridings' | 'shelves' | 'backs'>
> = {
  'barwright/bench/1': 'benches',
  'barwright/pattern/1': 'patterns',
  'barwright/setup/1': 'setups',
  'barwright/lesson/1': 'lessons',
  'barwright/rider/1': 'riders',
  'barwright/riding/1': 'ridings',
  'barwright/shelf/1': 'shelves',
  'barwright/back/1': 'backs',
};

/** Sorts files by what they say they are, and gives each scan document the mesh it names. */
export function sortFiles(files: readonly ReadFile[]): SortedFiles {
  const meshes = files.filter((file) => file.kind === 'mesh');
  const used = new Set<string>();
  const sorted = {
    benches: [],
    patterns: [],
    setups: [],
    lessons: [],
    riders: [],
    ridings: [],
    shelves: [],
    backs: [],
    refused: [],
  } as {
    -readonly [Key in Exclude<keyof SortedFiles, 'looseMeshes' | 'tracings'>]: SortedFiles[Key][number][];
  };
  for (const file of files) {
    if (file.kind !== 'json') continue;
    const { fileName, json } = file;
    const schema = schemaOf(json);
    const place = schema === null ? undefined : KNOWN[schema];
    if (place === undefined) sorted.refused.push(unknownDocument(fileName, schema));
    else if (place !== 'backs') sorted[place].push({ fileName, json });
    else {
      const back = json as Readonly<Record<string, unknown>>;
      const wanted = back.kind === 'scan' ? String(back.mesh) : null;
      const mesh = meshes.find((item) => item.fileName === wanted) ?? null;
      if (wanted !== null && mesh === null) sorted.refused.push(missingMesh(fileName, wanted));
      else
        sorted.backs.push({
          fileName,
          json: back,
          mesh: mesh === null ? null : { fileName: mesh.fileName, bytes: mesh.bytes },
        });
      if (mesh !== null) used.add(mesh.fileName);
    }
  }
  return {
    ...sorted,
    looseMeshes: meshes.filter((mesh) => !used.has(mesh.fileName)),
    tracings: files.filter((file) => file.kind === 'tracings'),
  };
}

function schemaOf(json: unknown): string | null {
  if (typeof json !== 'object' || json === null || !('schema' in json)) return null;
  return typeof json.schema === 'string' ? json.schema : null;
}

const unknownDocument = (file: string, schema: string | null): InputErrorDetails => ({
  code: 'unknown-schema',
  file,
  field: 'schema',
  ...(schema === null ? {} : { got: schema.slice(0, 60) }),
  expected: REFUSAL_TEXTS.unknownFile.expected(Object.keys(KNOWN).join(', ')),
  remedy: REFUSAL_TEXTS.unknownFile.remedy,
});

const missingMesh = (file: string, mesh: string): InputErrorDetails => ({
  code: 'missing',
  file,
  field: 'mesh',
  got: mesh.slice(0, 60),
  expected: REFUSAL_TEXTS.missingScan.expected,
  remedy: REFUSAL_TEXTS.missingScan.remedy(file, mesh),
});
