/** Vertices looked at: an even sample is enough to see a far-off origin. */
const SAMPLES = 10_000;
/** Share of the extent below which single precision would be felt: 0.05 mm on a 500 mm back. */
const NOTICEABLE = 1e-4;

/**
 * Warns when a mesh lies so far from its origin that single precision, which most mesh files hold, has cost it detail.
 * Spacing of single precision at a value v is 2^-23 v (IEEE 754).
 */
export function precisionWarnings(positions: Float64Array): string[] {
  const vertices = positions.length / 3;
  const step = Math.max(1, Math.floor(vertices / SAMPLES));
  let farthest = 0;
  let extent = 0;
  for (let k = 0; k < 3; k++) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let i = k; i < positions.length; i += 3 * step) {
      low = Math.min(low, positions[i]);
      high = Math.max(high, positions[i]);
    }
    farthest = Math.max(farthest, Math.abs(low), Math.abs(high));
    extent = Math.max(extent, high - low);
  }
  const spacing = farthest * 2 ** -23;
  if (spacing <= NOTICEABLE * extent) return [];
  const sizes = `${farthest.toPrecision(3)} from the origin, ${extent.toPrecision(3)} long`;
  return [
    `The mesh lies far from its origin (${sizes}); single precision there resolves only ${spacing.toPrecision(2)}.`,
  ];
}
