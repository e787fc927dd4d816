import type { ContactBody } from './contact-energy.ts';

/**
 * About one cell in `every`, each bar's area kept: for first looks. The cell is taken from another place of each run of
 * `every` cells, so that no grid of rows and columns lines up with the choice.
 */
export function thinBody(body: ContactBody, every: number): ContactBody {
  const picked: number[] = [];
  const bars = body.bars.map((bar) => {
    const from = picked.length;
    for (let k = 0; bar.from + k * every < bar.to; k++) {
      const i = bar.from + k * every + ((k * 13) % every);
      if (i < bar.to) picked.push(i);
    }
    return { side: bar.side, from, to: picked.length };
  });
  const thin = pickCells(body, Int32Array.from(picked), picked.length, bars);
  body.bars.forEach((bar, b) => {
    const share = areaOf(body.areaMm2, bar.from, bar.to) / areaOf(thin.areaMm2, bars[b]!.from, bars[b]!.to);
    if (share > 0 && share < Number.POSITIVE_INFINITY) {
      for (let i = bars[b]!.from; i < bars[b]!.to; i++) thin.areaMm2[i]! *= share;
    }
  });
  return thin;
}

/** The body of the first n picked cells alone, in their order. */
export function pickCells(body: ContactBody, picked: Int32Array, n: number, bars: ContactBody['bars']): ContactBody {
  const pointsMm = new Float64Array(3 * n);
  const areaMm2 = new Float64Array(n);
  copyCells(body.pointsMm, body.areaMm2, picked, pointsMm, areaMm2);
  return { count: n, pointsMm, areaMm2, bars };
}

function copyCells(
  pointsMm: Float64Array,
  areaMm2: Float64Array,
  picked: Int32Array,
  toPoints: Float64Array,
  toArea: Float64Array,
): void {
  for (let k = 0; k < toArea.length; k++) {
    const i = picked[k]!;
    toPoints[3 * k] = pointsMm[3 * i]!;
    toPoints[3 * k + 1] = pointsMm[3 * i + 1]!;
    toPoints[3 * k + 2] = pointsMm[3 * i + 2]!;
    toArea[k] = areaMm2[i]!;
  }
}

function areaOf(areaMm2: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += areaMm2[i]!;
  return sum;
}
