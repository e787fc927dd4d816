import type { Side } from '../spatial/index.ts';
import { largest, mm, type Observation, ruleWords, SIDES } from './observation.ts';
import { type Reading, squeezeMm } from './reading.ts';

const THIRDS = ['front', 'middle', 'rear'] as const;
/** A third that carries less than this of its bar's load is not read. */
const LEAST_THIRD_SHARE = 0.05;
const RADIANS = Math.PI / 180;

/** Load and squeeze of one third of a bar's length, split into thirds of its width (inner, middle, outer). */
interface Third {
  readonly index: number;
  readonly share: readonly [number, number, number];
  /** Mean squeeze over the inner and over the outer third, + pressed, mm. */
  readonly innerMm: number;
  readonly outerMm: number;
  readonly ofBar: number;
  readonly fromMm: number;
  readonly toMm: number;
  readonly widthMm: number;
}

/** Inner and outer edge bearing from the loaded force shares across the width, by thirds of the length. */
export function findEdgeBearing(reading: Reading): Observation[] {
  return SIDES.flatMap((side) => {
    const thirds = readThirds(reading, side);
    return (['inner', 'outer'] as const).flatMap((edge) => runs(reading, side, edge, thirds));
  });
}

type Edge = 'inner' | 'outer';

function runs(reading: Reading, side: Side, edge: Edge, thirds: readonly Third[]): Observation[] {
  const rule = reading.rules.edgeSharePercent / 100;
  const over = (t: Third): boolean => t.ofBar >= LEAST_THIRD_SHARE && shareAt(t, edge) > rule;
  const out: Observation[] = [];
  let run: Third[] = [];
  for (const third of [...thirds, null]) {
    if (third !== null && over(third)) {
      run.push(third);
      continue;
    }
    if (run.length > 0) out.push(observe(reading, side, edge, run));
    run = [];
  }
  return out;
}

const shareAt = (t: Third, edge: Edge): number => t.share[edge === 'inner' ? 0 : 2];
/** How much further the bearing edge is squeezed than the other, mm. */
const tiltAt = (t: Third, edge: Edge): number => (edge === 'inner' ? t.innerMm - t.outerMm : t.outerMm - t.innerMm);

function observe(reading: Reading, side: Side, edge: Edge, run: readonly Third[]): Observation {
  const { rules, seated } = reading;
  const worst = run.reduce((a, b) => (shareAt(b, edge) > shareAt(a, edge) ? b : a));
  const tilts = (thirds: readonly Third[]): number => largest(run.map((t) => tiltAt(thirds[t.index]!, edge)));
  const size = Math.max(0, ...run.map((t) => tiltAt(t, edge)));
  const blurMm = (2 / 3) * worst.widthMm * Math.sin(seated.back.measured.uncertaintyDeg * RADIANS);
  return {
    code: edge === 'inner' ? 'inner-edge-bearing' : 'outer-edge-bearing',
    side,
    fromMm: run[0]!.fromMm,
    toMm: run[run.length - 1]!.toMm,
    sizeMm: size,
    ratio: (100 * shareAt(worst, edge)) / rules.edgeSharePercent,
    withinMeasuringError: size <= blurMm,
    sizeIn: (other) => tilts(readThirds(other, side)),
    rule: ruleWords(rules, `${rules.edgeSharePercent} %`),
    say: (where) => {
      const places = run.map((t) => THIRDS[t.index]).join(' and ');
      const share = (100 * shareAt(worst, edge)).toFixed(0);
      const name = edge === 'inner' ? 'Inner (upper) edge' : 'Outer (lower) edge';
      return (
        `${name} of ${where} bears in the ${places} third: it takes up to ${share} % of the load there and is squeezed ` +
        `up to ${mm(size)} further than the other edge`
      );
    },
  };
}

function readThirds(reading: Reading, side: Side): Third[] {
  const { samples, seat, tree } = reading.seated;
  const bar = samples.bars[side === 'left' ? 0 : 1];
  const tipX = seat.pose.xMm + samples.frontTipXMm;
  const cells = THIRDS.map(() => ({ force: [0, 0, 0], squeeze: [0, 0, 0], area: [0, 0, 0] }));
  let total = 0;
  for (let i = bar.from; i < bar.to; i++) {
    const squeeze = squeezeMm(reading.seated, i);
    const area = samples.areaMm2[i]!;
    if (Number.isNaN(squeeze) || area === 0) continue;
    const along = cells[Math.min(2, Math.floor((3 * samples.bMm[i]!) / samples.lengthMm))]!;
    const across = Math.min(2, Math.floor(((samples.t[i]! + 1) / 2) * 3));
    const force = seat.pressureMPa[i]! * area;
    total += force;
    along.force[across]! += force;
    along.squeeze[across]! += squeeze * area;
    along.area[across]! += area;
  }
  return cells.map(({ force, squeeze, area }, index) => {
    const sum = force[0]! + force[1]! + force[2]!;
    const share = (k: number): number => (sum > 0 ? force[k]! / sum : 0);
    return {
      index,
      share: [share(0), share(1), share(2)],
      innerMm: area[0]! > 0 ? squeeze[0]! / area[0]! : 0,
      outerMm: area[2]! > 0 ? squeeze[2]! / area[2]! : 0,
      ofBar: total > 0 ? sum / total : 0,
      fromMm: tipX + (index * samples.lengthMm) / 3,
      toMm: tipX + ((index + 1) * samples.lengthMm) / 3,
      widthMm: tree[side].row(((index + 0.5) * samples.lengthMm) / 3).chordWidthMm,
    };
  });
}
