import * as z from 'zod';
import { InputError, showGot } from '../numeric/index.ts';
import { checkDocument } from '../pattern/index.ts';
import { readQuantity, readShopNumber, type ShopNumber, type UnitName } from '../units/index.ts';
import { type BackRecord, backRecordSchema } from './back-record.ts';
import { backFromFewNumbers, type FewNumbers, type SideSlopesDeg } from './few-numbers-back.ts';
import type { SectionsBackDocument } from './sections-schema.ts';

export const NUMBERS_SCHEMA = 'barwright/numbers/1';

const shop = z.union([z.number(), z.string().min(1).max(200)], { error: 'one number, or text such as "7 1/4 in"' });
const slope = z.union([shop, z.strictObject({ left: shop, right: shop })], {
  error: 'one slope, "left 46, right 45", or {"left": 46, "right": 45}',
});

/** What a person wrote down beside the horse, in shop numbers. Bare numbers are mm, degrees, kg. */
export const numbersSchema = z.strictObject({
  schema: z.literal(NUMBERS_SCHEMA),
  name: z.string().min(1).max(200),
  notes: z.string().max(2000).optional(),
  /** Rear edge of the blade to the last rib, along the horse. */
  usableLength: shop,
  /** Across the withers at the blade edge, at withersDepth below their top. */
  withersWidth: shop,
  withersDepth: shop.optional(),
  /** Side of the back against level, 120 mm out from the midline. */
  slopeFront: slope,
  slopeWaist: slope,
  slopeRear: slope,
  /** Deepest gap under a straight stick on the spine, from the blade edge to the last rib. */
  dip: shop.optional(),
  /** The same on the bearing line, 120 mm out; one of the two. */
  sag: shop.optional(),
  withersHeight: shop.optional(),
  horseWeight: shop.optional(),
  measured: z.strictObject({ by: z.string().max(200), on: z.string().regex(/^\d{4}-\d{2}-\d{2}$/) }),
  record: backRecordSchema.optional(),
});

export type NumbersDocument = z.infer<typeof numbersSchema>;
export type NumberName = (typeof NUMBER_NAMES)[number];

export const NUMBER_NAMES = [
  'usableLength',
  'withersWidth',
  'withersDepth',
  'slopeFront',
  'slopeWaist',
  'slopeRear',
  'dip',
  'sag',
  'withersHeight',
  'horseWeight',
] as const;

/** How a number was understood, to be shown to the person who wrote it. */
export interface GivenNumber {
  /** Name in the document; slopes of one side end in ".left" or ".right". */
  readonly name: string;
  /** As it was written. */
  readonly written: string;
  readonly value: number;
  readonly unit: 'mm' | 'deg' | 'kg';
  /** Where the unit came from; "assumed": nobody gave the number. */
  readonly from: ShopNumber['unitFrom'] | 'assumed';
}

export interface NumbersRead {
  readonly numbers: FewNumbers;
  readonly given: readonly GivenNumber[];
  readonly document: SectionsBackDocument;
}

/** Withers are measured across so far below their top, unless said: common practice, no source. */
const USUAL_DEPTH_MM = 75;

/** Names of FewNumbers that a person does not know, by those that are in the document. */
const OWN_NAMES: readonly (readonly [RegExp, string])[] = [
  [/^usableLengthMm$/, 'usableLength'],
  [/^withersWidth\.widthMm$/, 'withersWidth'],
  [/^withersWidth\.depthMm$/, 'withersDepth'],
  [/^toplineDipMm$/, 'dip'],
  [/^bearingLineSagMm$/, 'sag'],
  [/^slopesDeg\.behindBlade/, 'slopeFront'],
  [/^slopesDeg\.middle/, 'slopeWaist'],
  [/^slopesDeg\.lastRib/, 'slopeRear'],
];

/**
 * Numbers taken by hand, read the way a shop writes them, and the back that they give.
 * Throws InputError: all that checkDocument and readShopNumber throw (an ambiguous number is asked about), and all that
 * backFromFewNumbers throws, under the document's own names.
 */
export function readFewNumbers(json: unknown, file?: string): NumbersRead {
  const doc = checkDocument(numbersSchema, json, {
    schemaName: NUMBERS_SCHEMA,
    ...(file === undefined ? {} : { file }),
  });
  const given: GivenNumber[] = [];
  const one = (name: string, written: number | string, unit: GivenNumber['unit']): number => {
    const value = readQuantity(written, { field: name, unit });
    given.push({ name, written: String(written), value, unit, from: unitFrom(written, unit) });
    return value;
  };
  const maybe = (name: 'dip' | 'sag' | 'withersHeight' | 'horseWeight', unit: 'mm' | 'kg'): number | undefined =>
    doc[name] === undefined ? undefined : one(name, doc[name], unit);
  const slopeOf = (name: 'slopeFront' | 'slopeWaist' | 'slopeRear'): SideSlopesDeg => {
    const sides = sidesOf(doc[name], name);
    if (sides === null) return one(name, doc[name] as number | string, 'deg');
    return { left: one(`${name}.left`, sides.left, 'deg'), right: one(`${name}.right`, sides.right, 'deg') };
  };
  const usableLengthMm = one('usableLength', doc.usableLength, 'mm');
  const widthMm = one('withersWidth', doc.withersWidth, 'mm');
  const depthMm = doc.withersDepth === undefined ? USUAL_DEPTH_MM : one('withersDepth', doc.withersDepth, 'mm');
  if (doc.withersDepth === undefined) {
    given.push({ name: 'withersDepth', written: '', value: depthMm, unit: 'mm', from: 'assumed' });
  }
  const slopesDeg = {
    behindBlade: slopeOf('slopeFront'),
    middle: slopeOf('slopeWaist'),
    lastRib: slopeOf('slopeRear'),
  };
  const [dip, sag] = [maybe('dip', 'mm'), maybe('sag', 'mm')];
  const [height, weight] = [maybe('withersHeight', 'mm'), maybe('horseWeight', 'kg')];
  const numbers: FewNumbers = {
    name: doc.name,
    ...{ usableLengthMm, withersWidth: { widthMm, depthMm }, slopesDeg, measured: doc.measured },
    ...(dip === undefined ? {} : { toplineDipMm: dip }),
    ...(sag === undefined ? {} : { bearingLineSagMm: sag }),
    ...(height === undefined ? {} : { withersHeightMm: height }),
    ...(weight === undefined ? {} : { horseKg: weight }),
  };
  return {
    numbers,
    given,
    document: withWords(
      inOwnWords(() => backFromFewNumbers(numbers)),
      doc,
    ),
  };
}

/** JSON Schema (draft 2020-12) of the numbers. */
export const numbersJsonSchema = (): unknown => z.toJSONSchema(numbersSchema, { io: 'input' });

function unitFrom(written: number | string, unit: UnitName): ShopNumber['unitFrom'] {
  return typeof written === 'number' ? 'default' : readShopNumber(written, { defaultUnit: unit })!.unitFrom;
}

type Sides = { readonly left: number | string; readonly right: number | string };

/** `left 46, right 45` in either order, with the word before or behind. Null for one number. */
function sidesOf(value: NumbersDocument['slopeFront'], field: string): Sides | null {
  if (typeof value === 'object') return value;
  if (typeof value === 'number' || !/left|right/i.test(value)) return null;
  const parts = value.split(/[,;]/).map((part) => /^\s*(left|right)\s+(\S.*?)\s*$/i.exec(part));
  const by = new Map(parts.map((part) => (part === null ? ['', ''] : [part[1]!.toLowerCase(), part[2]!])));
  const [left, right] = [by.get('left'), by.get('right')];
  if (parts.length === 2 && left !== undefined && right !== undefined) return { left, right };
  throw new InputError({
    code: 'syntax',
    field,
    got: showGot(value),
    expected: 'both sides, such as "left 46, right 45"',
    remedy: 'Give one number for both sides, or one for each',
  });
}

function withWords(document: SectionsBackDocument, { notes, record }: NumbersDocument): SectionsBackDocument {
  const said = [notes, document.notes].filter((part) => part !== undefined && part !== '').join(' ');
  const own: BackRecord | undefined = record;
  return { ...document, notes: said, ...(own === undefined ? {} : { record: own }) };
}

function inOwnWords<Result>(work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const { field } = error.details;
    const own = OWN_NAMES.find(([name]) => field !== undefined && name.test(field))?.[1];
    const expected = error.details.expected.replace('toplineDipMm', 'dip').replace('bearingLineSagMm', 'sag');
    throw new InputError({ ...error.details, expected, ...(own === undefined ? {} : { field: own }) });
  }
}
