import * as z from 'zod';
import { InputError } from '../numeric/index.ts';
import { checkDocument, type PatternDocument, setPatternValues } from '../pattern/index.ts';
import { formatLength, readQuantity } from '../units/index.ts';
import { SEAT_TABLE } from './seat-range.ts';

const label = z.string().min(1).max(80);
const values = z.record(z.string().max(60), z.union([z.number(), z.string().max(200)]));
const finite = z.number();
const layer = z.strictObject({
  label,
  thicknessMm: finite.min(0).max(100),
  stiffnessKPaPerMm: finite.positive().max(10_000),
});

/** What a shop makes: `*.shelf.json`. Every choice is a change of one pattern; labels are the shop's own words. */
export const shelfSchema = z.strictObject({
  schema: z.literal('barwright/shelf/1'),
  name: z.string().min(1).max(200),
  notes: z.string().max(4000).optional(),
  /** Name of the pattern file beside this document; no folder. */
  pattern: z
    .string()
    .min(1)
    .max(255)
    .regex(/^(?!\.{1,2}$)[^/\\:]+$/, 'a file name without a folder'),
  /** Bar length by the seat's, as an expression over the pattern (common practice, no source: 6 to 8 in more). */
  barLength: z.string().min(1).max(200).default('seatLength + 6.5 in'),
  /** Spread and angle together, and whatever else goes with them. */
  widths: z.array(z.strictObject({ label, values })).min(1).max(20),
  /** Seat lengths, as a shop writes them. */
  seats: z
    .array(z.union([z.number(), z.string().max(40)]))
    .min(1)
    .max(20),
  /** Front and rear tips: flare, and whether the bars they belong to give. */
  tips: z
    .array(
      z.strictObject({
        label,
        values,
        bars: z.enum(['rigid', 'flexible']).optional(),
        materials: z.record(z.string().max(24), z.string().max(80)).default({}),
      }),
    )
    .min(1)
    .max(10),
  /** Under every tree. */
  skirts: z.array(layer).max(4).default([]),
  /** The first is the one the trees are meant to be used with; none means the setup's own layers. */
  pads: z.array(layer).max(6).default([]),
  /** The shop's own table of seats, if it has one. */
  seatTable: z
    .array(
      z.strictObject({
        fromKg: finite.min(10).max(300),
        toKg: finite.min(10).max(300),
        fromIn: finite.min(8).max(24),
        toIn: finite.min(8).max(24),
      }),
    )
    .min(1)
    .max(20)
    .default([...SEAT_TABLE]),
});

export type ShelfDocument = z.input<typeof shelfSchema>;
export type Shelf = z.output<typeof shelfSchema>;

/** A shelf from parsed JSON. Throws InputError as checkDocument does; 'inconsistent' for a label or seat given twice. */
export function readShelf(json: unknown, file?: string): Shelf {
  const shelf = checkDocument(shelfSchema, json, {
    schemaName: 'barwright/shelf/1',
    ...(file === undefined ? {} : { file }),
  });
  refuseTwice(
    'widths',
    shelf.widths.map((item) => item.label),
  );
  refuseTwice(
    'tips',
    shelf.tips.map((item) => item.label),
  );
  refuseTwice(
    'pads',
    shelf.pads.map((item) => item.label),
  );
  refuseTwice(
    'seats',
    shelf.seats.map((seat) => String(seatMm(seat))),
  );
  return shelf;
}

function refuseTwice(field: string, names: readonly string[]): void {
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return;
  throw new InputError({
    code: 'inconsistent',
    field,
    got: `${twice.slice(0, 60)} twice`,
    expected: 'each choice once',
    remedy: 'Take one of them out, or give it another label.',
  });
}

/** One tree that the shop makes. */
export interface ShelfChoice {
  readonly seat: string;
  readonly seatMm: number;
  readonly width: string;
  readonly tip: string;
  /** null: as the setup says. */
  readonly bars: 'rigid' | 'flexible' | null;
  readonly pattern: PatternDocument;
}

const seatMm = (seat: number | string): number => readQuantity(seat, { field: 'seats', unit: 'in' });

/**
 * Every tree of a shelf, by rising seat, then by width and tip in the order of their labels: the shelf's own order does
 * not matter.
 * @throws InputError as setPatternValues does for values that the pattern cannot take
 */
export function listChoices(shelf: Shelf, pattern: PatternDocument): ShelfChoice[] {
  const byLabel = (a: { label: string }, b: { label: string }): number => (a.label < b.label ? -1 : 1);
  const seats = [...shelf.seats].sort((a, b) => seatMm(a) - seatMm(b));
  const widths = [...shelf.widths].sort(byLabel);
  const tips = [...shelf.tips].sort(byLabel);
  return seats.flatMap((seat) =>
    widths.flatMap((width) =>
      tips.map((tip): ShelfChoice => {
        const mm = seatMm(seat);
        return {
          seat: formatLength(mm, 'in'),
          seatMm: mm,
          width: width.label,
          tip: tip.label,
          bars: tip.bars ?? null,
          pattern: setPatternValues(
            {
              ...pattern,
              materials: { ...pattern.materials, ...tip.materials },
              name: `${pattern.name} ${width.label} ${formatLength(mm, 'in')} ${tip.label}`.slice(0, 200),
            },
            [
              ['seatLength', mm],
              ['length', shelf.barLength],
              ...Object.entries(width.values),
              ...Object.entries(tip.values),
            ],
          ),
        };
      }),
    ),
  );
}

/** JSON Schema (draft 2020-12) of a shelf document. */
export const shelfJsonSchema = (): unknown => z.toJSONSchema(shelfSchema, { io: 'input' });
