/**
 * Saddle mat figures at walk, kPa, for horses whose backs were sound and for horses with dry spots and sore muscles:
 * von Peinen, Wiestner, von Rechenberg, Weishaupt 2010, Equine Vet J 42 Suppl 38:650-653. English saddles, withers.
 */
export const PUBLISHED_WALK_KPA = Object.freeze({
  mean: Object.freeze({ without: 7.8, with: 15.3 }),
  peak: Object.freeze({ without: 13.4, with: 30.6 }),
});

/** A figure within this share of a published one reads "near". */
const NEAR = 0.1;

/** Where a figure lies beside what was published: words only, never a verdict. */
export function besidePublished(kPa: number, figure: 'mean' | 'peak'): string {
  const { without, with: sore } = PUBLISHED_WALK_KPA[figure];
  const near = (value: number): boolean => Math.abs(kPa / value - 1) <= NEAR;
  const source = '(at walk, von Peinen et al. 2010)';
  if (near(without)) return `near the ${without} kPa published for horses without sore backs ${source}`;
  if (near(sore)) return `near the ${sore} kPa published for horses with sore backs ${source}`;
  if (kPa < without) return `below the ${without} kPa published for horses without sore backs ${source}`;
  if (kPa > sore) return `above the ${sore} kPa published for horses with sore backs ${source}`;
  return `above the ${without} kPa published for horses without and below the ${sore} kPa for horses with sore backs ${source}`;
}
