import { gaussLegendre } from '../numeric/index.ts';
import type { SlopeTable } from './section-slopes.ts';

const RULE = gaussLegendre(4);
/** Below this turn within a stretch the closed forms divide by too little, and four Gauss nodes are exact to rounding. */
const GENTLE_TURN_RAD = 0.05;

/** Integral of tan(slope) from the midline to |y|, with x derivatives (first, second) and the integrand's at |y|. */
export interface Fall {
  value: number;
  first: number;
  second: number;
  tangent: number;
  tangentFirst: number;
  tangentAcross: number;
}

export const createFall = (): Fall => ({
  ...{ value: 0, first: 0, second: 0 },
  ...{ tangent: 0, tangentFirst: 0, tangentAcross: 0 },
});

/**
 * Fall below the midline at |y| in one plane, slopes linear between knots. Beyond the last knot the last stretch goes on.
 * Nothing is made on the way: this runs at every step of every search for a foot.
 */
export function fallTo(knotsY: Float64Array, table: SlopeTable, absYMm: number, out: Fall): Fall {
  out.value = out.first = out.second = 0;
  let tan = Math.tan(table[0]!);
  for (let i = 0; i + 1 < knotsY.length; i++) {
    const y0 = knotsY[i]!;
    const span = knotsY[i + 1]! - y0;
    const isLast = absYMm <= knotsY[i + 1]! || i + 2 === knotsY.length;
    const share = isLast ? (absYMm - y0) / span : 1;
    const tanBefore = tan;
    const b0 = table[3 * i]!;
    const turn = table[3 * i + 3]! - b0;
    tan = Math.tan(b0 + share * turn);
    if (Math.abs(turn) < GENTLE_TURN_RAD) addGentle(out, table, i, share, span);
    else if (share !== 0) addStretch(out, table, i, tanBefore, tan, share, span);
    if (!isLast) continue;
    const first0 = table[3 * i + 1]!;
    out.tangent = tan;
    out.tangentFirst = (1 + tan * tan) * (first0 + share * (table[3 * i + 4]! - first0));
    out.tangentAcross = ((1 + tan * tan) * turn) / span;
    break;
  }
  return out;
}

/**
 * Closed forms over one stretch, slope b = b0 + turn s, integrating by parts: I0 = int tan b = ln(cos b0 / cos b) / turn,
 * 1 / cos^2 = 1 + tan^2,
 * I1 = int sec2(b) b' = ([tan b b'] - D' I0) / turn, and the second derivative likewise; ' is d/dx, D' the turn's.
 */
function addStretch(
  out: Fall,
  table: SlopeTable,
  i: number,
  tan0: number,
  tanEnd: number,
  share: number,
  span: number,
): void {
  const turn = table[3 * i + 3]! - table[3 * i]!;
  const p0 = table[3 * i + 1]!;
  const q0 = table[3 * i + 2]!;
  const turnFirst = table[3 * i + 4]! - p0;
  const turnSecond = table[3 * i + 5]! - q0;
  const p = p0 + share * turnFirst;
  const q = q0 + share * turnSecond;
  const i0 = (0.5 * Math.log((1 + tanEnd * tanEnd) / (1 + tan0 * tan0))) / turn;
  const i1 = (tanEnd * p - tan0 * p0 - turnFirst * i0) / turn;
  const ends = tanEnd * q - tan0 * q0 + (tanEnd * p) ** 2 - (tan0 * p0) ** 2;
  out.value += span * i0;
  out.first += span * i1;
  out.second += (span * (ends - turnSecond * i0 - 2 * turnFirst * (i1 - (share * (p0 + p)) / 2))) / turn;
}

function addGentle(out: Fall, table: SlopeTable, i: number, share: number, span: number): void {
  const [b0, p0, q0] = [table[3 * i]!, table[3 * i + 1]!, table[3 * i + 2]!];
  const turn = table[3 * i + 3]! - b0;
  const turnFirst = table[3 * i + 4]! - p0;
  const turnSecond = table[3 * i + 5]! - q0;
  for (let k = 0; k < RULE.nodes.length; k++) {
    const s = RULE.nodes[k]! * share;
    const w = RULE.weights[k]! * share * span;
    const bx = p0 + s * turnFirst;
    const tan = Math.tan(b0 + s * turn);
    const sec2 = 1 + tan * tan;
    out.value += w * tan;
    out.first += w * sec2 * bx;
    out.second += w * sec2 * (q0 + s * turnSecond + 2 * tan * bx * bx);
  }
}

/** Fall below the midline as a function of |y| in one plane: closed form, -ln cos over each linear stretch. Keeps no table. */
export function sectionRow(knots: Float64Array, table: SlopeTable): (absYMm: number) => number {
  const last = knots.length - 2;
  const slopes = new Float64Array(knots.length).map((_, k) => table[3 * k]!);
  const rates = new Float64Array(last + 1);
  const logs = slopes.map((slope) => Math.log(Math.cos(slope)));
  const falls = new Float64Array(last + 2);
  const stretch = (i: number, y: number): number => {
    const run = y - knots[i]!;
    const turn = rates[i]! * run;
    if (Math.abs(turn) < 1e-4) return gentleFall(slopes[i]!, turn, run);
    return (logs[i]! - Math.log(Math.cos(slopes[i]! + turn))) / rates[i]!;
  };
  for (let i = 0; i <= last; i++) {
    rates[i] = (slopes[i + 1]! - slopes[i]!) / (knots[i + 1]! - knots[i]!);
    falls[i + 1] = falls[i]! + stretch(i, knots[i + 1]!);
  }
  return (absY) => {
    let i = 0;
    while (i < last && knots[i + 1]! <= absY) i++;
    return falls[i]! + stretch(i, absY);
  };
}

/** The same for a small turn, by Taylor: run (tan b + turn tan' / 2 + turn^2 tan'' / 6); the next term is below 1e-10 mm for 1e-4. */
function gentleFall(slope: number, turn: number, run: number): number {
  const tan = Math.tan(slope);
  const first = 1 + tan * tan;
  return run * (tan + turn * (first / 2 + (turn * tan * first) / 3));
}
