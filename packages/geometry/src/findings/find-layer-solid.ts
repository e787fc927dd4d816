import type { LayerPart, LayerStack } from '../layers/index.ts';
import type { Side } from '../spatial/index.ts';
import { mm, type Observation, ruleWords, SIDES } from './observation.ts';
import { type Peak, patchAbove, peakOf } from './patch-above.ts';
import type { Reading } from './reading.ts';

/** One layer under a bar's highest pressure. */
interface Squeezed {
  readonly part: LayerPart;
  readonly squeezeMm: number;
  /** Of its unloaded thickness. */
  readonly share: number;
}

/** A layer squeezed so far under the averaging cell of highest pressure that it counts as solid there. */
export function findLayerSolid(reading: Reading): Observation[] {
  const limit = reading.rules.solidSharePercent / 100;
  return SIDES.flatMap((side) => {
    const peak = peakOf(reading, side);
    const worst = peak.cell < 0 ? null : mostSqueezed(reading.seated.stack, peak.kPa);
    return worst === null || worst.share <= limit ? [] : [observe(reading, side, peak, worst, limit)];
  });
}

/** The layer with the largest share of its thickness gone under a pressure; null where no layer has a thickness. */
function mostSqueezed({ parts }: LayerStack, kPa: number): Squeezed | null {
  let worst: Squeezed | null = null;
  for (const part of parts) {
    if (!(part.thicknessMm > 0) || !(kPa > 0)) continue;
    const squeezeMm = part.squeeze(kPa / 1000);
    const share = squeezeMm / part.thicknessMm;
    if (worst === null || share > worst.share) worst = { part, squeezeMm, share };
  }
  return worst;
}

/** Squeeze of the worst layer beyond the share that counts as solid, mm; negative while there is room. */
function beyondMm(reading: Reading, side: Side, limit: number): number | null {
  const worst = mostSqueezed(reading.seated.stack, peakOf(reading, side).kPa);
  return worst === null ? null : worst.squeezeMm - limit * worst.part.thicknessMm;
}

function observe(reading: Reading, side: Side, peak: Peak, worst: Squeezed, limit: number): Observation {
  const { rules, seated } = reading;
  const { part } = worst;
  const sizeMm = worst.squeezeMm - limit * part.thicknessMm;
  const patch = patchAbove(reading, side, solidFromMPa(part, limit, peak.kPa / 1000), peak.cell);
  return {
    code: 'layer-solid',
    side,
    fromMm: patch.fromMm,
    toMm: patch.toMm,
    sizeMm,
    ratio: worst.share / limit,
    withinMeasuringError: sizeMm <= seated.back.measured.uncertaintyMm,
    sizeIn: (other) => beyondMm(other, side, limit),
    rule: ruleWords(rules, `${rules.solidSharePercent} % of its thickness`),
    say: (where) =>
      `Layer squeezed solid under ${where}: ${part.layer.name} gives up ${mm(worst.squeezeMm)} of its ` +
      `${mm(part.thicknessMm)} at ${peak.kPa.toFixed(1)} kPa, over ${patch.areaCm2.toFixed(0)} cm2 more than the rule`,
  };
}

/** The pressure at which a layer reaches the share, by halving below one at which it is beyond it. */
function solidFromMPa(part: LayerPart, limit: number, beyondMPa: number): number {
  let [low, high] = [0, beyondMPa];
  for (let i = 0; i < 40; i++) {
    const mid = 0.5 * (low + high);
    if (part.squeeze(mid) < limit * part.thicknessMm) low = mid;
    else high = mid;
  }
  return high;
}
