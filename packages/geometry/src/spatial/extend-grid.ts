/** Rings filled around the data: the prefilter's tail, 0.172 per node, is below 1e-6 after eight. */
const RINGS = 8;

/**
 * Continues a masked grid smoothly beyond its data, so that the spline near a rim does not feel what lies behind it.
 * Each ring takes the mean of the straight continuations from its filled neighbours; what is left gets the mean height.
 * Nothing filled here is ever answered as data.
 *
 * `heights` and `mask` (1 = data) are nu x nv, row-major. Returns a new array.
 */
export function extendGrid(
  heights: Float64Array | Float32Array,
  mask: Uint8Array,
  nu: number,
  nv: number,
): Float64Array {
  const filled = Float64Array.from(heights);
  const state = Uint8Array.from(mask);
  let ring = nodesBesideData(state, nu, nv);
  for (let r = 0; r < RINGS && ring.length > 0; r++) {
    // In a nook no neighbour has another behind it: wait until the rest of the ring is there.
    const nook = fillNodes(filled, state, nu, nv, ring, false);
    fillNodes(filled, state, nu, nv, nook, true);
    ring = nextRing(ring, state, nu, nv);
  }
  fillRest(filled, state, mask);
  return filled;
}

function nodesBesideData(state: Uint8Array, nu: number, nv: number): number[] {
  const nodes: number[] = [];
  for (let k = 0; k < nu * nv; k++) if (state[k] === 0 && touchesData(state, nu, nv, k)) nodes.push(k);
  return nodes;
}

function touchesData(state: Uint8Array, nu: number, nv: number, k: number): boolean {
  const i = Math.floor(k / nv);
  const j = k - i * nv;
  return (
    (i > 0 && state[k - nv] === 1) ||
    (i < nu - 1 && state[k + nv] === 1) ||
    (j > 0 && state[k - 1] === 1) ||
    (j < nv - 1 && state[k + 1] === 1)
  );
}

function nextRing(ring: readonly number[], state: Uint8Array, nu: number, nv: number): number[] {
  const next = new Set<number>();
  for (const k of ring) {
    const i = Math.floor(k / nv);
    const j = k - i * nv;
    if (i > 0 && state[k - nv] === 0) next.add(k - nv);
    if (i < nu - 1 && state[k + nv] === 0) next.add(k + nv);
    if (j > 0 && state[k - 1] === 0) next.add(k - 1);
    if (j < nv - 1 && state[k + 1] === 0) next.add(k + 1);
  }
  return [...next];
}

/** Fills the nodes from what was filled before them all; returns those left over. */
function fillNodes(
  filled: Float64Array,
  state: Uint8Array,
  nu: number,
  nv: number,
  nodes: readonly number[],
  levelWillDo: boolean,
): number[] {
  const values = nodes.map((k) => continuation(filled, state, nu, nv, k, levelWillDo));
  const left: number[] = [];
  for (let n = 0; n < nodes.length; n++) {
    if (Number.isNaN(values[n])) {
      left.push(nodes[n]);
      continue;
    }
    filled[nodes[n]] = values[n];
    state[nodes[n]] = 1;
  }
  return left;
}

function continuation(
  filled: Float64Array,
  state: Uint8Array,
  nu: number,
  nv: number,
  k: number,
  levelWillDo: boolean,
): number {
  const i = Math.floor(k / nv);
  const j = k - i * nv;
  let straight = 0;
  let straightCount = 0;
  let level = 0;
  let levelCount = 0;
  const look = (step: number, roomToEdge: number) => {
    if (roomToEdge < 1 || state[k + step] === 0) return;
    level += filled[k + step];
    levelCount++;
    if (roomToEdge < 2 || state[k + 2 * step] === 0) return;
    straight += 2 * filled[k + step] - filled[k + 2 * step];
    straightCount++;
  };
  look(-nv, i);
  look(nv, nu - 1 - i);
  look(-1, j);
  look(1, nv - 1 - j);
  if (straightCount > 0) return straight / straightCount;
  return levelWillDo ? level / levelCount : Number.NaN;
}

function fillRest(filled: Float64Array, state: Uint8Array, mask: Uint8Array): void {
  let sum = 0;
  let count = 0;
  for (let k = 0; k < mask.length; k++) {
    if (mask[k] === 0) continue;
    sum += filled[k];
    count++;
  }
  const mean = count === 0 ? 0 : sum / count;
  for (let k = 0; k < state.length; k++) if (state[k] === 0) filled[k] = mean;
}
