import { MM_PER_INCH } from '@barwright/geometry';

/** The one axis: millimetres behind the shoulder blade to pixels across the drawing. */
export interface RulerScale {
  readonly fromMm: number;
  readonly toMm: number;
  readonly pxPerMm: number;
  toPx(xMm: number): number;
  toMmAt(px: number): number;
}

/**
 * Axis that shows the bars, the blade edge and the last rib. Its ends fall on whole steps of 50 mm, so that it stands
 * still while a bar is dragged a little.
 */
export function createRulerScale(placesMm: readonly number[], leftPx: number, rightPx: number): RulerScale {
  const known = placesMm.filter((place) => Number.isFinite(place));
  const fromMm = Math.floor((Math.min(-40, ...known) - 12) / 50) * 50;
  const toMm = Math.ceil((Math.max(440, ...known) + 12) / 50) * 50;
  const pxPerMm = (rightPx - leftPx) / (toMm - fromMm);
  return {
    fromMm,
    toMm,
    pxPerMm,
    toPx: (xMm) => leftPx + (xMm - fromMm) * pxPerMm,
    toMmAt: (px) => fromMm + (px - leftPx) / pxPerMm,
  };
}

export interface Tick {
  readonly xMm: number;
  /** Empty for a small mark. */
  readonly label: string;
}

/** Marks at round figures of the unit on show; labels stand at least `labelPx` apart. */
export function rulerTicks(scale: RulerScale, unit: 'mm' | 'in', labelPx = 46): Tick[] {
  const unitMm = unit === 'mm' ? 1 : MM_PER_INCH;
  const majors = unit === 'mm' ? [50, 100, 200] : [1, 2, 4, 8];
  const major = majors.find((step) => step * unitMm * scale.pxPerMm >= labelPx) ?? majors[majors.length - 1]!;
  const minor = unit === 'mm' ? (major === 200 ? 50 : major / 5) : major / 4;
  const first = Math.ceil(scale.fromMm / unitMm / minor);
  const last = Math.floor(scale.toMm / unitMm / minor);
  const perMajor = Math.round(major / minor);
  return Array.from({ length: last - first + 1 }, (_, i) => {
    const count = first + i;
    const value = count * minor;
    const label = count % perMajor === 0 ? String(Math.abs(value)) : '';
    return { xMm: value * unitMm, label: value < 0 && label !== '' ? `−${label}` : label };
  });
}

/** Smallest of 1, 2, 5 x 10^n that is not below the value. */
export function niceCeiling(value: number): number {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value));
  const step = [1, 2, 5, 10].find((s) => s * power >= value * (1 - 1e-9))!;
  return step * power;
}

/** Places for labels: as near as they can be to where they belong, at least `spacing` apart, in the same order. */
export function spreadLabels(wanted: readonly number[], spacing: number, low: number, high: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => wanted[a]! - wanted[b]!);
  const placed = order.map((i) => Math.min(high, Math.max(low, wanted[i]!)));
  for (let i = 1; i < placed.length; i++) placed[i] = Math.max(placed[i]!, placed[i - 1]! + spacing);
  const over = (placed[placed.length - 1] ?? high) - high;
  if (over > 0) {
    placed[placed.length - 1] = high;
    for (let i = placed.length - 2; i >= 0; i--) placed[i] = Math.min(placed[i]!, placed[i + 1]! - spacing);
  }
  const result = new Array<number>(wanted.length);
  order.forEach((i, rank) => {
    result[i] = placed[rank]!;
  });
  return result;
}
