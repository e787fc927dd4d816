import * as z from 'zod';
import { RIDING_SETS, type Riding, ridingSchema } from '../motion/index.ts';
import { InputError } from '../numeric/index.ts';
import { checkDocument } from '../pattern/index.ts';
import { readQuantity } from '../units/index.ts';

const mass = z.union([z.number(), z.string().max(40)]);

/** Who rides and how: `*.rider.json`. Masses in kg, or as written ("230 lb"). */
export const riderSchema = z.strictObject({
  schema: z.literal('barwright/rider/1'),
  name: z.string().min(1).max(200),
  notes: z.string().max(4000).optional(),
  mass,
  /** Clothes, bags, whatever else rides along. */
  gear: mass.default(0),
  /** The thigh moves the seat by half an inch either way (common practice, no source). */
  thigh: z.enum(['short', 'average', 'long']).default('average'),
  /** A kind of riding by its name, or one of the rider's own. */
  riding: z.union([z.string().min(1).max(200), ridingSchema]).default('Hours at walk on hills'),
});

export type RiderDocument = z.input<typeof riderSchema>;

/** A rider with masses in kg and the riding spelled out. */
export interface Rider {
  readonly name: string;
  readonly massKg: number;
  readonly gearKg: number;
  readonly thigh: 'short' | 'average' | 'long';
  readonly riding: Riding;
}

/**
 * A rider from parsed JSON.
 * @throws InputError as checkDocument and readQuantity do; 'unknown-name' for a riding that has no set; 'out-of-range'
 */
export function readRider(json: unknown, file?: string): Rider {
  const doc = checkDocument(riderSchema, json, {
    schemaName: 'barwright/rider/1',
    ...(file === undefined ? {} : { file }),
  });
  return {
    name: doc.name,
    massKg: massOf(doc.mass, 'mass', 10, 300),
    gearKg: massOf(doc.gear, 'gear', 0, 150),
    thigh: doc.thigh,
    riding: ridingOf(doc.riding),
  };
}

function massOf(value: number | string, field: string, least: number, most: number): number {
  const kg = readQuantity(value, { field, unit: 'kg' });
  if (kg >= least && kg <= most) return kg;
  throw new InputError({
    code: 'out-of-range',
    field,
    got: String(value),
    expected: `${least} to ${most} kg`,
    remedy: 'Give kilograms, or write the unit: "180 lb".',
  });
}

function ridingOf(riding: string | Riding): Riding {
  if (typeof riding !== 'string') return riding;
  const found = RIDING_SETS.find(({ name }) => name.toLowerCase() === riding.toLowerCase());
  if (found !== undefined) return found;
  throw new InputError({
    code: 'unknown-name',
    field: 'riding',
    got: riding.slice(0, 60),
    expected: `one of ${RIDING_SETS.map(({ name }) => `"${name}"`).join(', ')}, or a riding of your own`,
    remedy: 'Correct the name, or write the cases out.',
  });
}

/** JSON Schema (draft 2020-12) of a rider document. */
export const riderJsonSchema = (): unknown => z.toJSONSchema(riderSchema, { io: 'input' });
