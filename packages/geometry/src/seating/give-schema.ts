import * as z from 'zod';

/** What gives: layers, warmth, materials and the bars' own bending. Every default is assumed and can be changed. */
const finite = z.number();
const name = z.string().min(1).max(100);
const thicknessMm = finite.min(0).max(100);

const rises = (points: readonly (readonly [number, number])[]): boolean =>
  points.every(([x, y], i) => i === 0 || (x > points[i - 1]![0] && y > points[i - 1]![1]));

/** [percent of the thickness squeezed, kPa]; 0 % at 0 kPa may be left out. */
const curveSchema = z
  .array(z.tuple([finite.min(0).max(98), finite.min(0).max(10_000)]))
  .min(1)
  .max(40)
  .refine((points) => rises(points) && (points[0]![0] > 0 ? points[0]![1] > 0 : points[0]![1] === 0), {
    error: 'percent and kPa that both rise from point to point, from 0 % at 0 kPa',
  })
  .refine((points) => points.at(-1)![0] > 0, { error: 'a point beyond 0 %' });

/** A layer with one stiffness, of a soft material of the table, or with a curve of its own. */
export const layerSchema = z.union(
  [
    z.strictObject({ name, thicknessMm, stiffnessKPaPerMm: finite.positive().max(10_000) }),
    z.strictObject({ name, thicknessMm: finite.positive().max(100), material: z.string().min(1).max(100) }),
    z.strictObject({ name, thicknessMm: finite.positive().max(100), curve: curveSchema }),
  ],
  { error: 'name, thicknessMm and one of stiffnessKPaPerMm, material, curve' },
);

/** How far the bars give. */
export const flexSchema = z.strictObject({
  bars: z.enum(['rigid', 'flexible']).default('rigid'),
  /** What the ground seat ties between the bars' inner edges. */
  groundSeat: z.enum(['none', 'leather', 'moulded']).default('leather'),
  /** N per mm of travel per mm of bar length; null: the value of the kind. */
  groundSeatNPerMm2: finite.min(0).max(10_000).nullable().default(null),
  /** Time under load: solid materials creep, foam takes a set. */
  hours: finite.min(0).max(500_000).default(0),
});

/** Lumped heat from the horse's back into layers and bars. All assumed. */
export const warmthSchema = z.strictObject({
  ambientC: finite.min(-40).max(60).default(23),
  /** Time on the horse. */
  minutes: finite.min(0).max(10_000).default(0),
  backC: finite.min(0).max(45).default(35),
  /** Share of the way from ambient to the back's temperature that the part reaches in the end. */
  barShare: finite.min(0).max(1).default(0.4),
  layerShare: finite.min(0).max(1).default(0.8),
  /** Time constants. */
  barMinutes: finite.positive().max(1000).default(40),
  layerMinutes: finite.positive().max(1000).default(10),
});

const factors = (least: number, most: number) =>
  z
    .array(z.tuple([finite.min(least).max(most), finite.positive().max(20)]))
    .min(1)
    .max(40)
    .refine((points) => points.every(([x], i) => i === 0 || x > points[i - 1]![0]), {
      error: 'points whose first number rises',
    });

/** Numbers of a material of the table replaced by one's own; fields of the other kind of material are refused. */
const materialChangeSchema = z
  .strictObject({
    alongMPa: finite.positive().max(1e6).optional(),
    acrossMPa: finite.positive().max(1e6).optional(),
    shearMPa: finite.positive().max(1e6).optional(),
    poisson: finite.min(0).max(0.499).optional(),
    /** [degrees C, factor], 1 at 23. */
    temperature: factors(-60, 120).optional(),
    /** [hours, factor], 1 at no time. */
    creep: factors(0, 500_000).optional(),
    strainLimitPercent: finite.positive().max(100).nullable().optional(),
    /** Soft materials: pressure squeezed by a quarter; the table's law keeps its shape. */
    at25KPa: finite.positive().max(10_000).optional(),
    /** Soft materials: [percent, kPa] in place of the table's law. */
    curve: curveSchema.optional(),
    /** Soft materials: [hours, share of the thickness lost]. */
    set: z
      .array(z.tuple([finite.min(0).max(500_000), finite.min(0).max(0.8)]))
      .min(1)
      .max(40)
      .refine((points) => points.every(([x], i) => i === 0 || x > points[i - 1]![0]), {
        error: 'points whose first number rises',
      })
      .optional(),
    /** Where the numbers come from, printed with the result. */
    source: z.string().min(1).max(300).optional(),
  })
  .refine(({ at25KPa, curve }) => at25KPa === undefined || curve === undefined, {
    error: 'a pressure at 25 % (at25KPa) or a curve, not both',
    path: ['curve'],
  });

export const materialsSchema = z.record(z.string().min(1).max(100), materialChangeSchema).default({});
