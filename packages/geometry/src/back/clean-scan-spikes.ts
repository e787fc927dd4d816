import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { createQuadraticFit, frameAt, intoLocal } from './clean-scan-fit.ts';
import { findNeighbours, type Neighbours, robustSigma, withoutVertices } from './clean-scan-neighbours.ts';

export interface SpikeRules {
  /** A vertex is a spike when it stands further than this many standard deviations off the fit through its neighbours. */
  readonly sigmas: number;
  /** ... and further than this, mm. */
  readonly leastMm: number;
}

const PASSES = 5;

/**
 * Single vertices far off the curved fit (quadratic) through the vertices up to two edges away, itself left out. Strongest
 * first: of neighbours that stick out together only the worst goes in one pass. Rims are left alone, because a fit from
 * one side only says little.
 */
export function findSpikes(mesh: TriangleMesh, rules: SpikeRules): { removed: Uint8Array; sigmaMm: number } {
  const removed = new Uint8Array(mesh.positions.length / 3);
  let sigmaMm = 0;
  let current = mesh;
  for (let pass = 0; pass < PASSES; pass++) {
    const near = findNeighbours(current);
    const offMm = offFit(current, near);
    if (pass === 0) sigmaMm = robustSigma(offMm.filter((value) => !Number.isNaN(value)));
    const limit = Math.max(rules.leastMm, rules.sigmas * sigmaMm);
    let found = 0;
    for (let v = 0; v < removed.length; v++) {
      if (!(Math.abs(offMm[v]) > limit) || !isWorst(offMm, near, v)) continue;
      removed[v] = 1;
      found++;
    }
    if (found === 0) break;
    current = withoutVertices(mesh, removed);
  }
  return { removed, sigmaMm };
}

function isWorst(offMm: Float64Array, { start, list }: Neighbours, v: number): boolean {
  for (let i = start[v]; i < start[v + 1]; i++) if (Math.abs(offMm[list[i]]) > Math.abs(offMm[v])) return false;
  return true;
}

/**
 * Distance of each vertex from the fit of its neighbourhood, over the square root of 1 + the fit's own variance there, so
 * that few or one-sided neighbours don't make a spike of noise. NaN on rims and where there are too few neighbours.
 */
function offFit({ positions: p }: TriangleMesh, near: Neighbours): Float64Array {
  const fit = createQuadraticFit();
  const frame = new Float64Array(12);
  const place = new Float64Array(3);
  const ringOf = createRing(near);
  const offMm = new Float64Array(near.onRim.length).fill(Number.NaN);
  for (let v = 0; v < offMm.length; v++) {
    if (near.onRim[v] === 1) continue;
    const ring = ringOf(v);
    const mean = meanNormal(ring, near.normals);
    if (ring.length < 9 || mean === null) continue;
    frameAt(frame, p, 3 * v, mean, 0);
    fit.clear();
    for (const w of ring) {
      intoLocal(frame, p, 3 * w, place);
      fit.add(place[0], place[1], place[2], 1);
    }
    const terms = fit.solve();
    if (terms !== null) offMm[v] = -terms[0] / Math.sqrt(1 + fit.originVariance());
  }
  return offMm;
}

/** Vertices one and two edges away, itself left out; the list is reused by the next call. */
function createRing({ start, list, onRim }: Neighbours): (v: number) => readonly number[] {
  const mark = new Int32Array(onRim.length).fill(-1);
  const ring: number[] = [];
  return (v) => {
    ring.length = 0;
    mark[v] = v;
    const gather = (of: number): void => {
      for (let i = start[of]; i < start[of + 1]; i++) {
        const w = list[i];
        if (mark[w] === v) continue;
        mark[w] = v;
        ring.push(w);
      }
    };
    gather(v);
    const first = ring.length;
    for (let r = 0; r < first; r++) gather(ring[r]);
    return ring;
  };
}

function meanNormal(ring: readonly number[], normals: Float64Array): Float64Array | null {
  const mean = new Float64Array(3);
  for (const w of ring) for (let k = 0; k < 3; k++) mean[k] += normals[3 * w + k];
  const length = Math.hypot(mean[0], mean[1], mean[2]);
  return length > 0 ? mean.map((value) => value / length) : null;
}
