import * as z from 'zod';
import { backRecordSchema, measuredSchema } from './back-record.ts';

const finite = z.number();
const perSide = <T extends z.ZodType>(value: T) => z.strictObject({ left: value, right: value });

/** A smooth dent or muscle beside the spine: depth x (1 - r^2)^3 over an ellipse in (x, |y|). */
const hollowSchema = z.strictObject({
  centreXMm: finite,
  centreYMm: finite.min(0),
  radiusXMm: finite.positive(),
  radiusYMm: finite.positive(),
  /** + depth lowers the surface. */
  depthMm: finite.min(-60).max(60),
});

/** One side's difference from the table: slopes shifted and the side lifted over a stretch, with smooth ends. */
const asymmetrySchema = z.strictObject({
  slopeDeg: finite.min(-15).max(15),
  liftMm: finite.min(-30).max(30),
  fromMm: finite,
  toMm: finite,
  rampMm: finite.positive(),
});

const bulgeSchema = z.strictObject({ heightMm: finite.min(0).max(40) });

/** A back given by slopes and bearing-line heights at stations (DESIGN 3, TRADE 5). Horse frame, mm and degrees. */
export const sectionsBackSchema = z.strictObject({
  schema: z.literal('barwright/back/1'),
  kind: z.literal('sections'),
  name: z.string().min(1).max(200),
  notes: z.string().max(4000).optional(),
  /** Stations behind the blade edge, rising. */
  stationsMm: z.array(finite.min(-400).max(1500)).min(2).max(60),
  bearingLineYMm: finite.min(60).max(200),
  bearingHeightMm: z.array(finite.min(-500).max(500)),
  /** Distances from the midline at which the slopes are given, rising; the slope is 0 at the midline. */
  slopeYMm: z.array(finite.positive().max(400)).min(1).max(12),
  /** One row per station, one slope per distance, degrees below horizontal going outward. */
  slopeDeg: z.array(z.array(finite.min(-30).max(85))),
  /** Added to the outermost slope at edgeYMm, where the data ends. */
  edgeYMm: finite.positive().max(500),
  edgeSlopeAddDeg: finite.min(-20).max(20),
  asymmetry: perSide(asymmetrySchema.nullable()),
  bladeBulge: perSide(bulgeSchema),
  /** How far the blade edge swings back with the leg forward. */
  bladeSwingMm: finite.min(0).max(150),
  hollow: perSide(hollowSchema.nullable()),
  /** Blade edge to last rib, along x. */
  usableLengthMm: finite.positive().max(1200),
  withersHeightMm: finite.positive().max(2500).optional(),
  horseKg: finite.positive().max(1500).optional(),
  measured: measuredSchema,
  record: backRecordSchema.optional(),
});

export type SectionsBackDocument = z.infer<typeof sectionsBackSchema>;
