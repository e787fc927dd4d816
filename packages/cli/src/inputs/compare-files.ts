import { InputError, JSON_LIMITS, parseJson } from '@barwright/geometry';
import { type InputFile, looksLikeJson, readInput } from '../files/input-file.ts';
import type { Io } from '../io.ts';

/** A file of a comparison, by what it says it is. */
export interface ComparableFile {
  readonly name: string;
  readonly kind: 'pattern' | 'back' | 'fit-result';
  readonly input: InputFile;
  readonly json: Readonly<Record<string, unknown>>;
}

/** The fits that are compared, the first being what the others are held against. */
export type ComparedFiles =
  | { readonly kind: 'documents'; readonly pairs: readonly (readonly [ComparableFile, ComparableFile])[] }
  | { readonly kind: 'results'; readonly results: readonly ComparableFile[] };

export const MOST_FITS = 6;
const KINDS: readonly string[] = ['pattern', 'back', 'fit-result'];

/** Sorts files into fits. Throws InputError where they do not make two to six different ones. */
export async function readComparedFiles(names: readonly string[], io: Io): Promise<ComparedFiles> {
  const files: ComparableFile[] = [];
  for (const name of names) files.push(await readOne(name, io));
  refuseSame(files);
  const of = (kind: ComparableFile['kind']): ComparableFile[] => files.filter((file) => file.kind === kind);
  const [patterns, backs, results] = [of('pattern'), of('back'), of('fit-result')];
  const counts = `${patterns.length} patterns, ${backs.length} backs, ${results.length} results`;
  if (files.length > MOST_FITS + 1) throw wrongFiles(counts, `at most ${MOST_FITS} fits`);
  if (results.length >= 2 && results.length === files.length) return { kind: 'results', results };
  if (results.length > 0) throw wrongFiles(counts, 'results alone, two or more, or patterns and backs alone');
  if (backs.length === 1 && patterns.length >= 2) {
    return { kind: 'documents', pairs: patterns.map((pattern) => [pattern, backs[0]!] as const) };
  }
  if (patterns.length === 1 && backs.length >= 2) {
    return { kind: 'documents', pairs: backs.map((back) => [patterns[0]!, back] as const) };
  }
  throw wrongFiles(counts, 'two or more patterns and one back, or one pattern and two or more backs');
}

async function readOne(name: string, io: Io): Promise<ComparableFile> {
  const input = await readInput(io.folder, name, 'file', JSON_LIMITS.maxSize);
  const json = looksLikeJson(input) ? parseJson(input.bytes, input.file, JSON_LIMITS) : null;
  const schema = typeof json === 'object' && json !== null && 'schema' in json ? json.schema : undefined;
  const kind = typeof schema === 'string' ? /^barwright\/([a-z-]+)\/\d+$/.exec(schema)?.[1] : undefined;
  if (kind !== undefined && KINDS.includes(kind)) {
    return { name, kind: kind as ComparableFile['kind'], input, json: json as Record<string, unknown> };
  }
  throw new InputError({
    code: 'unsupported',
    file: input.file,
    got: kind ?? 'a file that does not say what it is',
    expected: 'a pattern, a back, or a result that fit wrote',
    remedy: '`barwright check` says what a file is',
  });
}

function refuseSame(files: readonly ComparableFile[]): void {
  const seen = new Map<string, string>();
  for (const { input } of files) {
    const before = seen.get(input.sha256);
    if (before !== undefined) {
      throw new InputError({
        code: 'inconsistent',
        file: input.file,
        got: before === input.file ? 'the same file twice' : `the same content as ${before}`,
        expected: 'different files',
        remedy: 'A file with itself shows no difference; to vary one value, use barwright sweep',
      });
    }
    seen.set(input.sha256, input.file);
  }
}

function wrongFiles(got: string, expected: string): InputError {
  return new InputError({ code: 'usage', field: 'files', got, expected, remedy: 'See barwright compare --help' });
}
