import * as z from 'zod';
import { checkDocument } from '../pattern/index.ts';

const finite = z.number();

/** One way of being ridden: where the weight is, how much of it, on what ground, over what back. */
export const ridingCaseSchema = z.strictObject({
  name: z.string().min(1).max(100),
  /** Static weight times this. */
  factor: finite.min(0).max(6).default(1),
  /** Where the rider's weight meets the tree: in the seat (as the setup has it), in both stirrups, or in one. */
  weightIn: z.enum(['seat', 'stirrups', 'left stirrup', 'right stirrup']).default('seat'),
  /** Further back than the setup's place, percent of bar length. */
  backPercent: finite.min(-30).max(30).default(0),
  /** Leaning, + to the horse's right. */
  offsetMm: finite.min(-200).max(200).default(0),
  /** Height of the weight; the setup's where left out. */
  heightMm: finite.min(0).max(1500).optional(),
  /** The ground's rise, + uphill. */
  riseDeg: finite.min(-35).max(35).default(0),
  /** Girth: pull of each side, and where the rigging sits. */
  girthN: finite.min(0).max(1000).default(0),
  girthAtPercent: finite.min(0).max(100).default(25),
  /** The back against the way it stood; assumed. */
  archMm: finite.min(-60).max(100).default(0),
  flattenPercent: finite.min(-50).max(100).default(0),
  widenMm: finite.min(-30).max(30).default(0),
  flatterDeg: finite.min(-10).max(10).default(0),
  legForward: z.enum(['none', 'left', 'right', 'both']).default('none'),
  /** Where the figures come from. */
  source: z.string().min(1).max(400).default('assumed, no source'),
});

/** A kind of riding as a named set of cases: `*.riding.json`. */
export const ridingSchema = z.strictObject({
  schema: z.literal('barwright/riding/1').default('barwright/riding/1'),
  name: z.string().min(1).max(200),
  notes: z.string().max(4000).optional(),
  cases: z.array(ridingCaseSchema).min(1).max(40),
});

export type RidingCase = z.output<typeof ridingCaseSchema>;
export type Riding = z.output<typeof ridingSchema>;
export type RidingDocument = z.input<typeof ridingSchema>;

/** A kind of riding from parsed JSON. Throws InputError as checkDocument does. */
export function readRiding(json: unknown, file?: string): Riding {
  return checkDocument(ridingSchema, json, {
    schemaName: 'barwright/riding/1',
    ...(file === undefined ? {} : { file }),
  });
}

/** JSON Schema (draft 2020-12) of a riding document. */
export const ridingJsonSchema = (): unknown => z.toJSONSchema(ridingSchema, { io: 'input' });
