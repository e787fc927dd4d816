import * as z from 'zod';
import { backRecordSchema, measuredSchema } from './back-record.ts';
import { CLEAN_STEPS } from './clean-steps.ts';

const point = z.tuple([z.number(), z.number(), z.number()]);
const axis = z.enum(['+x', '-x', '+y', '-y', '+z', '-z']);

/** Millimetres in one unit of a scan's file. */
export const SCAN_UNIT_MM = Object.freeze({ mm: 1, cm: 10, m: 1000, in: 25.4 });

/** A back given by a scanned mesh (DESIGN 3). Landmarks in the file's own coordinates and unit; any may be left out. */
export const scanBackSchema = z.strictObject({
  schema: z.literal('barwright/back/1'),
  kind: z.literal('scan'),
  name: z.string().min(1).max(200),
  notes: z.string().max(4000).optional(),
  /** Name of the mesh file beside this document; no folder. */
  mesh: z
    .string()
    .min(1)
    .max(255)
    .regex(/^(?!\.{1,2}$)[^/\\:]+$/, 'a file name without a folder'),
  unit: z.enum(['mm', 'cm', 'm', 'in']),
  /** Which axis of the file points to the tail, to the horse's right, and up: as they lie on the horse, mirrored or not. */
  axes: z.strictObject({ tail: axis, right: axis, up: axis }),
  /**
   * For a scan that lies askew: a row-major 3x3 rotation of the file's coordinates, applied before `axes`, which then
   * name the turned axes. Landmarks stay in the file's own coordinates.
   */
  turn: z.array(z.number().min(-1.001).max(1.001)).length(9).optional(),
  /** The file was saved mirrored: left and right are swapped in it, so that `axes` are left-handed. No shape tells this. */
  mirrored: z.boolean().optional(),
  /** For a cloud of points: side of the cells that its surface is made in, in the file's unit. Else from the points. */
  pointSpacing: z.number().positive().max(1e6).optional(),
  /** Clean-up steps to apply before use, each once; the file stays as it is, so leaving a step out undoes it. */
  cleaning: z
    .array(z.enum(CLEAN_STEPS))
    .max(CLEAN_STEPS.length)
    .refine((steps) => new Set(steps).size === steps.length, 'each step once')
    .optional(),
  landmarks: z.strictObject({
    bladeEdgeLeft: point.optional(),
    bladeEdgeRight: point.optional(),
    withersTop: point.optional(),
    lowPoint: point.optional(),
    lastRib: point.optional(),
  }),
  /** Landmarks above that come from the shape alone: nobody marked them on the horse. They stay marked as proposed. */
  proposedLandmarks: z
    .array(z.enum(['bladeEdgeLeft', 'bladeEdgeRight', 'withersTop', 'lowPoint', 'lastRib']))
    .max(5)
    .optional(),
  /** The blade as a raised patch, for the leg-forward question only: while standing it is in the scan already. */
  bladeBulge: z.strictObject({ heightMm: z.number().min(0).max(40) }).optional(),
  bladeSwingMm: z.number().min(0).max(150).optional(),
  measured: measuredSchema,
  record: backRecordSchema.optional(),
});

export type ScanBackDocument = z.infer<typeof scanBackSchema>;
