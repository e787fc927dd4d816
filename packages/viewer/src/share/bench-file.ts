import { BENCH_SCHEMA, type BenchDocument, type CarriedBack, type ReadBench } from '@barwright/geometry';
import type { Documents, OpenedBack } from '../state/documents.ts';
import { COLOUR_MODES, type ViewFrom, type ViewState } from '../state/view-state.ts';
import { bytesOf, textOf } from './base64.ts';

/** A document as it is carried: its own reader says what it is. */
const carried = (document: unknown): Record<string, unknown> => document as Record<string, unknown>;

const VIEWS: readonly ViewFrom[] = ['left', 'right', 'below', 'above', 'three-quarter'];

/** All that lies on the bench, scans included, as one document. */
export async function benchOf(
  { pattern, back, setup, lesson }: Documents,
  { stationXMm, isLaidOn, colour, from }: ViewState,
): Promise<BenchDocument> {
  const backs = Object.entries(lesson?.backs ?? {}).map(async ([name, one]) => [name, await carry(one)] as const);
  return {
    schema: BENCH_SCHEMA,
    name: `${pattern.name} on ${back.name}`.slice(0, 200),
    pattern: carried(pattern),
    back: await carry(back),
    setup: carried(setup),
    look: { stationXMm, isLaidOn, colour, from },
    lesson: lesson && {
      document: carried(lesson.document),
      step: lesson.step,
      patterns: lesson.patterns as Record<string, Record<string, unknown>>,
      backs: Object.fromEntries(await Promise.all(backs)),
    },
  };
}

const carry = async ({ json, mesh }: OpenedBack): Promise<CarriedBack> => ({
  document: carried(json),
  mesh: mesh && { fileName: mesh.fileName, base64: await textOf(mesh.bytes) },
});

/** What a bench document puts on the bench, and how it is to be looked at. */
export function documentsOf({ bench, pattern, setup, lesson }: ReadBench): {
  documents: Documents;
  look: Partial<ViewState>;
} {
  const documents: Documents = {
    pattern,
    setup,
    back: unpack(bench.back),
    lesson:
      lesson === null || bench.lesson === null
        ? null
        : {
            document: lesson,
            step: bench.lesson.step,
            patterns: bench.lesson.patterns,
            backs: Object.fromEntries(Object.entries(bench.lesson.backs).map(([name, one]) => [name, unpack(one)])),
          },
  };
  const { stationXMm, isLaidOn } = bench.look;
  const colour = COLOUR_MODES.find((mode) => mode === bench.look.colour);
  const from = VIEWS.find((view) => view === bench.look.from);
  return {
    documents,
    look: {
      ...(stationXMm === undefined ? {} : { stationXMm }),
      ...(isLaidOn === undefined ? {} : { isLaidOn }),
      ...(colour === undefined ? {} : { colour }),
      ...(from === undefined ? {} : { from }),
    },
  };
}

const unpack = ({ document, mesh }: CarriedBack): OpenedBack => ({
  name: String(document.name),
  json: document,
  mesh: mesh && { fileName: mesh.fileName, bytes: bytesOf(mesh.base64) },
});
