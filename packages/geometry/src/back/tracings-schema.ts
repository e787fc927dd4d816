import * as z from 'zod';
import { backRecordSchema, measuredSchema } from './back-record.ts';

const point2 = z.tuple([z.number(), z.number()]);
const point3 = z.tuple([z.number(), z.number(), z.number()]);
const axis = z.enum(['+x', '-x', '+y', '-y', '+z', '-z']);
const name = z.string().min(1).max(80);

const curveSchema = z.strictObject({
  id: name,
  kind: z.enum(['cross', 'lengthwise']),
  /** Behind the blade edge, mm whatever the document's unit; null where the tracing doesn't say. */
  stationMm: z.number().min(-600).max(2000).nullable().optional(),
  side: z.enum(['left', 'right', 'both']).optional(),
  /**
   * A level mark drawn on the tracing: a point of it and its direction [to the right, up] (default: level). null: there
   * is none; left out: none on a two-number tracing, not needed on a three-number one.
   */
  level: z
    .strictObject({
      point: z.array(z.number()).min(2).max(3),
      direction: point2.optional(),
    })
    .nullable()
    .optional(),
  /**
   * Cross: [y, z] (y to the horse's right, z up) or [x, y, z]. Lengthwise: [x, z] over the midline or [x, y, z].
   * All two numbers or all three. Two numbers are in the horse's directions whatever `axes` says.
   */
  points: z.union([z.array(point2).min(3).max(5000), z.array(point3).min(3).max(5000)]),
});

/** A back given by tracings: cross-sections and lengthwise curves (DESIGN 3, TRADE 2.3). */
export const tracingsBackSchema = z.strictObject({
  schema: z.literal('barwright/back/1'),
  kind: z.literal('tracings'),
  name: z.string().min(1).max(200),
  notes: z.string().max(4000).optional(),
  unit: z.enum(['mm', 'cm', 'm', 'in']),
  /** Which axis of three-number points leads to the tail, to the horse's right, and up. Default +x, +y, +z. */
  axes: z.strictObject({ tail: axis, right: axis, up: axis }).optional(),
  curves: z.array(curveSchema).min(1).max(60),
  /** In the document's own coordinates and unit; any may be left out. */
  landmarks: z
    .strictObject({
      bladeEdgeLeft: point3.optional(),
      bladeEdgeRight: point3.optional(),
      withersTop: point3.optional(),
      lowPoint: point3.optional(),
      lastRib: point3.optional(),
    })
    .optional(),
  /** Choices for the questions that checkTracings asks, by question. */
  answers: z.record(z.string().max(200), z.string().max(100)).optional(),
  /** The blade as a raised patch, for the leg-forward question only: while standing it is in the tracings already. */
  bladeBulge: z.strictObject({ heightMm: z.number().min(0).max(40) }).optional(),
  bladeSwingMm: z.number().min(0).max(150).optional(),
  measured: measuredSchema,
  record: backRecordSchema.optional(),
});

export type TracingsBackDocument = z.infer<typeof tracingsBackSchema>;
export type TracingDocumentCurve = TracingsBackDocument['curves'][number];
