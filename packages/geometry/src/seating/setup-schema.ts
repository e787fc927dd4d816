import * as z from 'zod';
import { flexSchema, layerSchema, materialsSchema, warmthSchema } from './give-schema.ts';
import { shimsSchema } from './shim-schema.ts';

const finite = z.number();

/** What findings compare with. Every default is common practice, no source (TRADE 6); a shop edits them and signs. */
const rulesSchema = z.strictObject({
  /** Who set these, as quoted beside every finding. */
  setBy: z.string().min(1).max(200).default('common practice, no source'),
  /** ISO date of the last edit, or null for the defaults. */
  setOn: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/)
    .nullable()
    .default(null),
  /** Bridging and rocking: laid-on middle against the bearing ends. */
  lengthwiseMm: finite.positive().max(50).default(3),
  /** Too steep, too flat. */
  slopeDeg: finite.positive().max(45).default(3),
  /** Share of a bar third's load on the inner or outer third of its width. */
  edgeSharePercent: finite.min(34).max(100).default(50),
  /** Peak against mean, and the least patch that counts is the averaging cell. */
  pressurePointTimesMean: finite.min(1).max(20).default(2),
  /** Bearing past the last rib. */
  pastRibMm: finite.min(0).max(200).default(25),
  /** Pressure from which a place counts as bearing past the last rib. */
  pastRibKPa: finite.min(0).max(50).default(1),
  /** Squeeze of the layers ahead of the blade edge: 40 % of a 20 mm pad. */
  tipSqueezeMm: finite.positive().max(50).default(8),
  spineForkMm: finite.positive().max(200).default(40),
  spineAlongMm: finite.positive().max(200).default(20),
  spineChannelMm: finite.positive().max(200).default(65),
  /** Flexible bars between fork and cantle: more give than this is over-flex. */
  overFlexMm: finite.positive().max(50).default(2),
  /** Share of the bearing surface without data. */
  offDataPercent: finite.positive().max(100).default(1),
  /** A layer squeezed beyond this share of its thickness counts as solid. */
  solidSharePercent: finite.min(1).max(100).default(60),
  /** Layers thicker than this on a narrow tree are remarked on. */
  padMm: finite.positive().max(100).default(20),
  /** Front bearing begins this far behind the blade edge. */
  frontBearingFromMm: finite.min(-100).max(200).default(25),
  frontBearingToMm: finite.min(-100).max(300).default(60),
  /** A label that changes within this much of the set position is called sensitive. */
  setPositionBandMm: finite.positive().max(200).default(30),
});

/** A dead force fixed in place on the tree, its direction fixed in the horse frame, N. */
const pullSchema = z.strictObject({
  name: z.string().min(1).max(100),
  /** Percent of bar length from the front tip. */
  at: finite.min(-20).max(120),
  /** + to the horse's right. */
  offsetMm: finite.min(-500).max(500).default(0),
  /** Above the low point of the bearing line. */
  heightMm: finite.min(-800).max(1500).default(0),
  rearN: finite.min(-5000).max(5000).default(0),
  rightN: finite.min(-5000).max(5000).default(0),
  downN: finite.min(-5000).max(5000),
});

/** How the tree is loaded and what lies between: `*.setup.json`. Defaults are DESIGN 1's table. */
export const setupSchema = z.strictObject({
  schema: z.literal('barwright/setup/1').default('barwright/setup/1'),
  name: z.string().max(200).default('Standing, rider 80 kg'),
  /** x of the front tip edge, mm behind the blade edge. */
  setPositionMm: finite.min(-200).max(200).default(-30),
  shiftMm: finite.min(-60).max(60).default(0),
  yawDeg: finite.min(-10).max(10).default(0),
  load: z
    .strictObject({
      riderKg: finite.min(0).max(300).default(80),
      saddleKg: finite.min(0).max(60).default(15),
      /** Static weight times this: gait. */
      factor: finite.min(0).max(6).default(1),
      /** Percent of bar length from the front tip, or 'seat' for the pattern's seat low point. */
      at: z.union([finite.min(0).max(100), z.literal('seat')]).default(47),
      /** + to the horse's right. */
      offsetMm: finite.min(-200).max(200).default(0),
      /** Above the low point of the bearing line. */
      heightMm: finite.min(0).max(1500).default(150),
      /** The ground's rise under the horse, + uphill: the weight then leans rearward in the horse's own frame. */
      riseDeg: finite.min(-35).max(35).default(0),
      /** Further dead forces on the tree: girth at the rigging, one stirrup, a hand on the horn. */
      pulls: z.array(pullSchema).max(20).default([]),
    })
    .prefault({}),
  /** From the horse outward. */
  layers: z
    .array(layerSchema)
    .min(1)
    .max(12)
    .default([
      { name: 'soft tissue', thicknessMm: 0, stiffnessKPaPerMm: 3 },
      { name: 'pad', thicknessMm: 20, stiffnessKPaPerMm: 2.5 },
    ]),
  /** Pieces put in under a bar or on the horse, beside the layers. */
  shims: shimsSchema,
  flex: flexSchema.prefault({}),
  warmth: warmthSchema.prefault({}),
  /** Materials by name, with the numbers that differ from the table's (layers/). */
  materials: materialsSchema,
  limits: z
    .strictObject({
      ruleOfThumbPsi: finite.positive().max(100).default(2),
      meanKPa: finite.positive().max(500).default(11),
      peakKPa: finite.positive().max(1000).default(30),
      /** No published limit: only when the user sets one. */
      p95KPa: finite.positive().max(1000).nullable().default(null),
    })
    .prefault({}),
  rules: rulesSchema.prefault({}),
  samples: z.number().int().min(200).max(200_000).default(10_000),
  averagingCellCm2: finite.min(0.5).max(50).default(4),
  path: z.enum(['fast', 'exact']).default('fast'),
  /** Which forelegs are forward: their blade patches swing back. */
  legForward: z.enum(['none', 'left', 'right', 'both']).default('none'),
});

export type Setup = z.output<typeof setupSchema>;
export type Rules = Setup['rules'];
export type SetupDocument = z.input<typeof setupSchema>;

/** Every default of DESIGN 1 in one value. */
export const SETUP_DEFAULTS: Setup = setupSchema.parse({});
