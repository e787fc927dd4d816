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
    const share = areaOf(body, bar.from, bar.to) / areaOf(thin, bars[b]!.from, bars[b]!.to);
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
  for (let k = 0; k < n; k++) {
    const i = picked[k]!;
    pointsMm[3 * k] = body.pointsMm[3 * i]!;
    pointsMm[3 * k + 1] = body.pointsMm[3 * i + 1]!;
    pointsMm[3 * k + 2] = body.pointsMm[3 * i + 2]!;
    areaMm2[k] = body.areaMm2[i]!;
  }
  return { count: n, pointsMm, areaMm2, bars };
}

function areaOf(body: ContactBody, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += body.areaMm2[i]!;
  return sum;
}
