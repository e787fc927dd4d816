import { z } from 'zod';

const finite = z.number();

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
    })
    .prefault({}),
  /** From the horse outward. */
  layers: z
    .array(
      z.strictObject({
        name: z.string().min(1).max(100),
        thicknessMm: finite.min(0).max(100),
        stiffnessKPaPerMm: finite.positive().max(10_000),
      }),
    )
    .min(1)
    .max(12)
    .default([
      { name: 'soft tissue', thicknessMm: 0, stiffnessKPaPerMm: 3 },
      { name: 'pad', thicknessMm: 20, stiffnessKPaPerMm: 2.5 },
    ]),
  limits: z
    .strictObject({
      ruleOfThumbPsi: finite.positive().max(100).default(2),
      meanKPa: finite.positive().max(500).default(11),
      peakKPa: finite.positive().max(1000).default(30),
      /** No published limit: only when the user sets one. */
      p95KPa: finite.positive().max(1000).nullable().default(null),
    })
    .prefault({}),
  samples: z.number().int().min(200).max(200_000).default(10_000),
  averagingCellCm2: finite.min(0.5).max(50).default(4),
  path: z.enum(['fast', 'exact']).default('fast'),
  /** Which forelegs are forward: their blade patches swing back. */
  legForward: z.enum(['none', 'left', 'right', 'both']).default('none'),
});

export type Setup = z.output<typeof setupSchema>;
export type SetupDocument = z.input<typeof setupSchema>;

/** Every default of DESIGN 1 in one value. */
export const SETUP_DEFAULTS: Setup = setupSchema.parse({});
