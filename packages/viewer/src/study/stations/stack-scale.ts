import type { CutView } from '../../contract.ts';
import { bars, type CutWindow } from '../../cut/cut-geometry.ts';

export interface StackScale {
  readonly pxPerMm: number;
  /** Half of what is shown across, mm either side of the midline. */
  readonly halfMm: number;
  /** Height of one cut's picture, px. */
  readonly heightPx: number;
  window(cut: CutView): CutWindow;
}

const EDGE_PX = 16;

/** Heights of the bars and of the back under them, mm: what has to be seen of a cut. */
function reachOf(cut: CutView): { low: number; high: number; half: number } | null {
  let [low, high, half] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  const see = (line: Float32Array): void => {
    for (let i = 0; i < line.length; i += 2) {
      const [y, z] = [line[i]!, line[i + 1]!];
      if (Number.isNaN(y) || Number.isNaN(z)) continue;
      low = Math.min(low, z);
      high = Math.max(high, z);
      half = Math.max(half, Math.abs(y));
    }
  };
  for (const bar of bars(cut)) {
    see(bar.underside);
    see(bar.top);
  }
  if (half === 0) see(cut.back);
  else
    for (let i = 0; i < cut.back.length; i += 2)
      if (Math.abs(cut.back[i]!) <= half + 20) see(cut.back.subarray(i, i + 2));
  return low > high ? null : { low, high, half };
}

/** One scale for all cuts of a stack: the widest fills the width, the tallest the height, true both ways. */
export function stackScale(cuts: readonly CutView[], widthPx: number): StackScale | null {
  const reaches = cuts.map(reachOf).filter((reach) => reach !== null);
  if (reaches.length === 0) return null;
  const halfMm = Math.max(...reaches.map(({ half }) => half)) + 12;
  const tallMm = Math.max(...reaches.map(({ low, high }) => high - low));
  const pxPerMm = Math.max(0.1, (widthPx - 2 * EDGE_PX) / (2 * halfMm));
  const heightPx = Math.round(tallMm * pxPerMm + 2 * EDGE_PX);
  return {
    pxPerMm,
    halfMm,
    heightPx,
    window: (cut) => {
      const reach = reachOf(cut);
      const middle = reach === null ? 0 : (reach.low + reach.high) / 2;
      return {
        pxPerMm,
        toX: (y) => widthPx / 2 + y * pxPerMm,
        toY: (z) => heightPx / 2 - (z - middle) * pxPerMm,
      };
    },
  };
}

/** Height of the back at y by its polyline, mm; NaN outside it or beside missing data. */
export function backHeightAt(back: Float32Array, y: number): number {
  for (let i = 2; i < back.length; i += 2) {
    if (y > back[i]!) continue;
    const share = (y - back[i - 2]!) / (back[i]! - back[i - 2]!);
    return share < 0 ? Number.NaN : back[i - 1]! + share * (back[i + 1]! - back[i - 1]!);
  }
  return Number.NaN;
}

/**
 * What lies between underside and back, as closed SVG paths: daylight where the bar is above the back, overlap where it dips
 * below it. Split where one line crosses the other and where the back has no data.
 */
export function gapPaths(
  underside: Float32Array,
  back: Float32Array,
  window: CutWindow,
): { clear: string; squeeze: string } {
  const out = { clear: '', squeeze: '' };
  type Place = { y: number; bar: number; back: number };
  const places: Place[] = [];
  for (let i = 0; i < underside.length; i += 2)
    places.push({ y: underside[i]!, bar: underside[i + 1]!, back: backHeightAt(back, underside[i]!) });
  const at = (y: number, z: number): string => `${window.toX(y).toFixed(1)} ${window.toY(z).toFixed(1)}`;
  for (let i = 1; i < places.length; i++) {
    const [a, b] = [places[i - 1]!, places[i]!];
    const [ga, gb] = [a.bar - a.back, b.bar - b.back];
    if (Number.isNaN(ga) || Number.isNaN(gb)) continue;
    const crosses = ga * gb < 0;
    const share = crosses ? ga / (ga - gb) : 1;
    const mid: Place = {
      y: a.y + share * (b.y - a.y),
      bar: a.bar + share * (b.bar - a.bar),
      back: a.back + share * (b.back - a.back),
    };
    const piece = (p: Place, q: Place): string =>
      `M${at(p.y, p.bar)}L${at(q.y, q.bar)}L${at(q.y, q.back)}L${at(p.y, p.back)}Z`;
    out[(crosses ? ga : ga + gb) >= 0 ? 'clear' : 'squeeze'] += piece(a, mid);
    if (crosses) out[gb >= 0 ? 'clear' : 'squeeze'] += piece(mid, b);
  }
  return out;
}
