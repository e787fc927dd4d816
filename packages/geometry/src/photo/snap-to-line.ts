import { InputError } from '../numeric/index.ts';
import { cheapestPath } from './cheapest-path.ts';
import { checkImage, type GreyImage, greyAt, type PixelPoint } from './grey-image.ts';
import { lightAt, type PaperLight, paperLight } from './paper-light.ts';

export interface SnapOptions {
  /** Width of the pen line, px; default 5. Looked for within three times this beside the way found. */
  readonly penPx?: number;
  /** Distance of the points given back, px along the line; default 4. */
  readonly everyPx?: number;
}

export interface SnappedLine {
  /** Centre of the pen line, in order from the first click to the last. Meant to be moved by hand where it went astray. */
  readonly pointsPx: readonly PixelPoint[];
  /** How dark the line is at each point, as a share of its own usual darkness: 1 clear, 0 not seen. */
  readonly seen: readonly number[];
  /** Share of the way on which no line was seen; there the points are a guess. */
  readonly unseenShare: number;
}

const SEEN = 0.3;
/** Cells of the grid that a stretch between two clicks is searched on, at most. */
const MOST_CELLS = 250_000;
/** A step beside the line costs this many steps on it. */
const OFF_LINE = 40;

/**
 * Follows a pen line between clicks near it: the cheapest way over darkness from click to click, then at right angles to
 * that way the centre of the dark stretch. Darkness is against the paper about it, so shade does not matter. Use the
 * `ink` picture of greyFromRgba for coloured pens.
 * @param clicksPx two or more, along the line
 * @throws InputError as checkImage; 'missing' with fewer than two clicks, 'out-of-range' for one outside the picture
 */
export function snapToLine(image: GreyImage, clicksPx: readonly PixelPoint[], options: SnapOptions = {}): SnappedLine {
  checkImage(image);
  checkClicks(image, clicksPx);
  const { penPx = 5, everyPx = 4 } = options;
  const photo: Seen = { image, light: paperLight(image, clicksPx, penPx) };
  const starts = clicksPx.map((p) => darkestNear(photo, p, penPx));
  const usual = usualDarkness(photo, starts);
  let way: PixelPoint[] = [];
  for (let i = 1; i < starts.length; i++) way.push(...wayBetween(photo, starts[i - 1]!, starts[i]!, penPx, usual));
  for (const smoothPx of [3 * penPx, 2 * penPx]) {
    const base = resample(smooth(way, smoothPx), Math.min(1.5, everyPx));
    way = centred(image, base, penPx, usual).points;
  }
  const base = resample(way, everyPx);
  const { points, darkness } = centred(image, base, penPx, usual);
  const seen = darkness.map((d) => Math.min(1, d / usual));
  return { pointsPx: points, seen, unseenShare: seen.filter((s) => s < SEEN).length / seen.length };
}

interface Seen {
  readonly image: GreyImage;
  readonly light: PaperLight;
}

function checkClicks(image: GreyImage, clicks: readonly PixelPoint[]): void {
  if (clicks.length < 2) {
    throw new InputError({
      code: 'missing',
      field: 'clicks',
      got: `${clicks.length} points`,
      expected: 'two points or more on the line',
      remedy: 'Click where the line begins and where it ends',
    });
  }
  const wrong = clicks.find(([x, y]) => !(x >= 0 && y >= 0 && x <= image.width && y <= image.height));
  if (wrong === undefined) return;
  throw new InputError({
    code: 'out-of-range',
    field: 'clicks',
    got: `a point at ${wrong[0]}, ${wrong[1]}`,
    expected: 'points in the picture',
    remedy: 'Click on the line in the photo',
  });
}

/** Darkness at a place against the paper about it: 0 paper, 1 black. */
function darknessAt(seen: Seen, x: number, y: number): number {
  const light = lightAt(seen.light, x, y);
  return light < 8 ? 0 : Math.max(0, (light - greyAt(seen.image, x, y)) / light);
}

function darkestNear(seen: Seen, click: PixelPoint, penPx: number): PixelPoint {
  const { image } = seen;
  let best = click;
  let most = 0.08;
  const reach = Math.ceil(1.5 * penPx);
  for (let dy = -reach; dy <= reach; dy++) {
    for (let dx = -reach; dx <= reach; dx++) {
      const [x, y] = [click[0] + dx, click[1] + dy];
      const distance = Math.hypot(dx, dy);
      if (distance > reach || x < 0 || y < 0 || x > image.width || y > image.height) continue;
      const darkness = darknessAt(seen, x, y) * (1 - distance / (4 * reach));
      if (darkness <= most) continue;
      most = darkness;
      best = [x, y];
    }
  }
  return best;
}

/** Darkness of the line: the median of its darkest places at the clicks; never less than what can be told from noise. */
function usualDarkness(seen: Seen, starts: readonly PixelPoint[]): number {
  const all = starts.map(([x, y]) => darknessAt(seen, x, y)).sort((a, b) => a - b);
  return Math.max(0.12, all[Math.floor(all.length / 2)]!);
}

function wayBetween(seen: Seen, a: PixelPoint, b: PixelPoint, penPx: number, usual: number): PixelPoint[] {
  const { image } = seen;
  const margin = Math.max(6 * penPx, 0.35 * Math.hypot(b[0] - a[0], b[1] - a[1]));
  const left = Math.max(0, Math.floor(Math.min(a[0], b[0]) - margin));
  const top = Math.max(0, Math.floor(Math.min(a[1], b[1]) - margin));
  const right = Math.min(image.width, Math.ceil(Math.max(a[0], b[0]) + margin));
  const bottom = Math.min(image.height, Math.ceil(Math.max(a[1], b[1]) + margin));
  const by = Math.max(1, Math.ceil(Math.sqrt(((right - left) * (bottom - top)) / MOST_CELLS)));
  const [width, height] = [Math.ceil((right - left) / by), Math.ceil((bottom - top) / by)];
  const costs = new Float32Array(width * height);
  for (let v = 0; v < height; v++) {
    for (let u = 0; u < width; u++) {
      const dark = darkestIn(seen, left + u * by, top + v * by, by);
      costs[v * width + u] = 1 / (1 / OFF_LINE + Math.min(1, dark / usual) ** 1.5);
    }
  }
  const cellOf = ([x, y]: PixelPoint): number => {
    const u = Math.min(width - 1, Math.max(0, Math.floor((x - left) / by)));
    const v = Math.min(height - 1, Math.max(0, Math.floor((y - top) / by)));
    return v * width + u;
  };
  return cheapestPath(costs, width, cellOf(a), cellOf(b)).map((cell) => [
    left + ((cell % width) + 0.5) * by,
    top + (Math.floor(cell / width) + 0.5) * by,
  ]);
}

/** Darkest place of a square of pixels, so that a thin line is not lost on a coarse grid. */
function darkestIn(seen: Seen, x: number, y: number, by: number): number {
  if (by === 1) return darknessAt(seen, x + 0.5, y + 0.5);
  const { image } = seen;
  let [bx, bY, least] = [x, y, 256];
  for (let v = y; v < Math.min(image.height, y + by); v++) {
    for (let u = x; u < Math.min(image.width, x + by); u++) {
      const g = image.grey[v * image.width + u]!;
      if (g >= least) continue;
      [bx, bY, least] = [u, v, g];
    }
  }
  return darknessAt(seen, bx + 0.5, bY + 0.5);
}

/** Points moved to the centre of the dark stretch at right angles to their way; those that stand out are drawn back. */
function centred(image: GreyImage, way: readonly PixelPoint[], penPx: number, usual: number) {
  const normals = way.map((_, i) => normalAt(way, i));
  const found = way.map((p, i) => centreAcross(image, p, normals[i]!, penPx, usual));
  const offsets = found.map((f) => f.offset);
  const calm = offsets.map((offset, i) => {
    const near = offsets.slice(Math.max(0, i - 4), i + 5).sort((a, b) => a - b);
    const middle = near[near.length >> 1]!;
    return Math.abs(offset - middle) > 0.25 * penPx ? middle : offset;
  });
  const points = way.map(([x, y], i): PixelPoint => [x + calm[i]! * normals[i]![0], y + calm[i]! * normals[i]![1]]);
  return { points, darkness: found.map((f) => f.darkness) };
}

function normalAt(way: readonly PixelPoint[], i: number): PixelPoint {
  const a = way[Math.max(0, i - 2)]!;
  const b = way[Math.min(way.length - 1, i + 2)]!;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  return [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
}

function centreAcross(image: GreyImage, [x, y]: PixelPoint, [nx, ny]: PixelPoint, penPx: number, usual: number) {
  const step = 0.5;
  const reach = Math.ceil((1.5 * penPx) / step);
  const grey: number[] = [];
  for (let k = -reach - 2 * reach; k <= 3 * reach; k++) grey.push(greyAt(image, x + k * step * nx, y + k * step * ny));
  const sorted = [...grey].sort((a, b) => b - a);
  const light = sorted[Math.floor(sorted.length / 4)]!;
  const at = (k: number): number => (light < 8 ? 0 : Math.max(0, (light - grey[k + 3 * reach]!) / light));
  let peak = 0;
  for (let k = -reach; k <= reach; k++) {
    // A little for nearness, so that of two lines the one that was followed is taken.
    const worth = (place: number): number => at(place) * (1 - (0.3 * Math.abs(place)) / reach);
    if (worth(k) > worth(peak)) peak = k;
  }
  const darkness = at(peak);
  if (darkness < SEEN * usual) return { offset: 0, darkness };
  const floor = 0.35 * darkness;
  let [sum, moment] = [0, 0];
  const add = (k: number): boolean => {
    const weight = at(k) - floor;
    if (weight <= 0 || Math.abs(k) > 3 * reach) return false;
    sum += weight;
    moment += weight * k;
    return true;
  };
  add(peak);
  for (let k = peak + 1; k <= 3 * reach && add(k); k++);
  for (let k = peak - 1; k >= -3 * reach && add(k); k--);
  return { offset: (moment / sum) * step, darkness };
}

/** Moving mean over a length along the way; ends stay. */
function smooth(way: readonly PixelPoint[], lengthPx: number): PixelPoint[] {
  const half = Math.max(1, Math.round(lengthPx / 2));
  return way.map((_, i) => {
    const reach = Math.min(half, i, way.length - 1 - i);
    let [sx, sy] = [0, 0];
    for (let k = i - reach; k <= i + reach; k++) {
      sx += way[k]![0];
      sy += way[k]![1];
    }
    return [sx / (2 * reach + 1), sy / (2 * reach + 1)];
  });
}

/** Points at even distances along a way, both ends kept. */
function resample(way: readonly PixelPoint[], everyPx: number): PixelPoint[] {
  const along = [0];
  for (let i = 1; i < way.length; i++) {
    along.push(along[i - 1]! + Math.hypot(way[i]![0] - way[i - 1]![0], way[i]![1] - way[i - 1]![1]));
  }
  const total = along[along.length - 1]!;
  const count = Math.max(2, Math.round(total / everyPx));
  const out: PixelPoint[] = [];
  let i = 0;
  for (let k = 0; k <= count; k++) {
    const s = (total * k) / count;
    while (i < way.length - 2 && along[i + 1]! < s) i++;
    const span = along[i + 1]! - along[i]!;
    const t = span > 0 ? (s - along[i]!) / span : 0;
    out.push([way[i]![0] + t * (way[i + 1]![0] - way[i]![0]), way[i]![1] + t * (way[i + 1]![1] - way[i]![1])]);
  }
  return out;
}
