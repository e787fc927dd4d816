import * as z from 'zod';

const finite = z.number();

/** A piece put in somewhere. Cut square in plan, skived to nothing over rampMm inside its outline. */
export const shimSchema = z
  .strictObject({
    name: z.string().min(1).max(100),
    /** bar: glued to the underside, travels with the tree; horse: lies on the back, stays where it is. */
    fixedTo: z.enum(['bar', 'horse']),
    side: z.enum(['left', 'right', 'both']).default('both'),
    /** On a bar from the front tip edge; on the horse behind the blade edge. */
    fromMm: finite.min(-400).max(1500),
    toMm: finite.min(-400).max(1500),
    /** Outward from the midplane of the tree, or of the horse. */
    innerMm: finite.min(0).max(500),
    outerMm: finite.min(0).max(500),
    thicknessMm: finite.positive().max(40),
    rampMm: finite.min(2).max(200).default(25),
  })
  .refine((shim) => shim.toMm - shim.fromMm >= 2 * shim.rampMm, {
    error: 'from before to, with both skived edges between them',
    path: ['toMm'],
  })
  .refine((shim) => shim.outerMm - shim.innerMm >= 2 * shim.rampMm, {
    error: 'inner before outer, with both skived edges between them',
    path: ['outerMm'],
  })
  .refine((shim) => shim.rampMm >= 2 * shim.thicknessMm, {
    error: 'edges skived over at least twice the thickness',
    path: ['rampMm'],
  });

export const shimsSchema = z.array(shimSchema).max(12).default([]);
export type Shim = z.output<typeof shimSchema>;

/** A shim in words, as it is printed beside results. */
export function shimWords({ name, fixedTo, side, thicknessMm, fromMm, toMm, innerMm, outerMm }: Shim): string {
  const which = side === 'both' ? 'both sides' : side;
  const along = fixedTo === 'bar' ? 'from the front tip edge' : 'behind the blade edge';
  return `${name} ${thicknessMm} mm, fixed to the ${fixedTo}, ${which}, ${fromMm} to ${toMm} mm ${along}, ${innerMm} to ${outerMm} mm out`;
}
