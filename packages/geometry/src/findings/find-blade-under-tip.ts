import type { Side } from '../spatial/index.ts';
import { mm, type Observation, ruleWords, SIDES } from './observation.ts';
import { type Reading, squeezeMm } from './reading.ts';

interface TipSqueeze {
  readonly mostMm: number;
  readonly fromMm: number;
}

/** Blade under the tip: squeeze of the layers under the bar ahead of the blade's rear edge. */
export function findBladeUnderTip(reading: Reading): Observation[] {
  const { rules, seated } = reading;
  const out: Observation[] = [];
  for (const side of SIDES) {
    const tip = squeezeAhead(reading, side);
    if (tip === null || tip.mostMm <= rules.tipSqueezeMm) continue;
    out.push({
      code: 'blade-under-tip',
      side,
      fromMm: tip.fromMm,
      toMm: bladeEdgeX(reading, side),
      sizeMm: tip.mostMm,
      ratio: tip.mostMm / rules.tipSqueezeMm,
      withinMeasuringError: tip.mostMm - rules.tipSqueezeMm <= seated.back.measured.uncertaintyMm,
      sizeIn: (other) => Math.max(0, squeezeAhead(other, side)?.mostMm ?? 0),
      rule: ruleWords(rules, mm(rules.tipSqueezeMm)),
      say: (where) =>
        `Blade under the tip: ahead of the blade edge the front tip of ${where} squeezes the layers by up to ` +
        mm(tip.mostMm),
    });
  }
  return out;
}

function bladeEdgeX({ seated }: Reading, side: Side): number {
  const { bladeEdgeLeft, bladeEdgeRight } = seated.back.landmarks;
  return (side === 'left' ? bladeEdgeLeft : bladeEdgeRight)[0];
}

/** Greatest squeeze ahead of the blade edge, interpolated up to the edge itself; null where no cell lies ahead of it. */
function squeezeAhead(reading: Reading, side: Side): TipSqueeze | null {
  const { samples, seat } = reading.seated;
  const bar = samples.bars[side === 'left' ? 0 : 1];
  const edge = bladeEdgeX(reading, side);
  let mostMm = Number.NEGATIVE_INFINITY;
  let fromMm = edge;
  for (let i = bar.from; i < bar.to; i++) {
    const x = seat.placedMm[3 * i]!;
    const squeeze = squeezeMm(reading.seated, i);
    if (x > edge || samples.areaMm2[i] === 0 || Number.isNaN(squeeze)) continue;
    mostMm = Math.max(mostMm, squeeze, atEdge(reading, i, x, squeeze, edge));
    if (squeeze > 0) fromMm = Math.min(fromMm, x);
  }
  return mostMm === Number.NEGATIVE_INFINITY ? null : { mostMm, fromMm };
}

/** Squeeze where the line from cell i to the cell behind it crosses the blade edge. */
function atEdge(reading: Reading, i: number, x: number, squeeze: number, edge: number): number {
  const { samples, seat } = reading.seated;
  const behind = i + samples.columns;
  if (behind >= samples.count) return squeeze;
  const x2 = seat.placedMm[3 * behind]!;
  const other = squeezeMm(reading.seated, behind);
  if (!(x2 > edge) || Number.isNaN(other)) return squeeze;
  return squeeze + ((other - squeeze) * (edge - x)) / (x2 - x);
}
