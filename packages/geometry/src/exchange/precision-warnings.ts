/** Vertices looked at: an even sample is enough to see a far-off origin, and each one is a trip to memory. */
const SAMPLES = 1000;
/** Share of the extent below which single precision would be felt: 0.05 mm on a 500 mm back. */
const NOTICEABLE = 1e-4;

/**
 * Warns when a mesh lies so far from its origin that single precision, which most mesh files hold, has cost it detail.
 * Spacing of single precision at a value v is 2^-23 v (IEEE 754).
 */
export function precisionWarnings(positions: Float64Array): string[] {
  const vertices = positions.length / 3;
  const step = Math.max(1, Math.floor(vertices / SAMPLES));
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let v = 0; v < vertices; v += step) {
    for (let k = 0; k < 3; k++) {
      low[k] = Math.min(low[k], positions[3 * v + k]);
      high[k] = Math.max(high[k], positions[3 * v + k]);
    }
  }
  const farthest = Math.max(...high, ...low.map((value) => -value));
  const extent = Math.max(...high.map((value, k) => value - low[k]));
  const spacing = farthest * 2 ** -23;
  if (spacing <= NOTICEABLE * extent) return [];
  const sizes = `${farthest.toPrecision(3)} from the origin, ${extent.toPrecision(3)} long`;
  return [
    `The mesh lies far from its origin (${sizes}); single precision there resolves only ${spacing.toPrecision(2)}.`,
  ];
}
