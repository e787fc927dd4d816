import { type BarMeasures, type MeasureOptions, measureBar } from './measure-bar.ts';
import { MEASURE_DEFINITIONS } from './measure-definitions.ts';
import type { StationPlane } from './measure-station.ts';
import { surfaceOfUnderside } from './measure-underside.ts';
import { type Tree, treeLengthMm } from './tree.ts';

/** What both bars make together at one station; definitions by name in MEASURE_DEFINITIONS. */
export interface PairMeasures extends StationPlane {
  readonly includedAngleDeg: number;
  readonly includedAngleReliefChordDeg: number;
  readonly spreadMm: number;
}

/** A tree or a mesh of one or two bars, measured. Lengths mm, angles degrees. */
export interface TreeMeasures {
  readonly source: 'pattern' | 'mesh';
  readonly left: BarMeasures | null;
  readonly right: BarMeasures | null;
  /** Empty for a single bar. */
  readonly pairs: readonly PairMeasures[];
  /** How each figure is defined, by the figure's name. */
  readonly definitions: typeof MEASURE_DEFINITIONS;
  readonly remarks: readonly string[];
}

const STEP_MM = 50;

/**
 * Measures a tree built from a pattern by the same definitions as an imported mesh, from its exact undersides.
 * @throws InputError 'degenerate' where a bar has no measurable section at 20 or 80 % of its length
 */
export function measureTree(tree: Tree, options: MeasureOptions = {}): TreeMeasures {
  const stations = options.stations ?? stationsOfTree(tree);
  const left = measureBar(surfaceOfUnderside(tree.left, 'left'), stations, options);
  const right = measureBar(surfaceOfUnderside(tree.right, 'right'), stations, options);
  return joinMeasures('pattern', left, right, []);
}

/** Both bars' measures with what they make together. */
export function joinMeasures(
  source: TreeMeasures['source'],
  left: BarMeasures | null,
  right: BarMeasures | null,
  remarks: readonly string[],
): TreeMeasures {
  const pairs: PairMeasures[] = [];
  for (const l of left?.stations ?? []) {
    const r = right?.stations.find((s) => s.bMm === l.bMm && s.name === l.name);
    if (r === undefined) continue;
    pairs.push({
      name: l.name,
      bMm: l.bMm,
      includedAngleDeg: 180 - l.slopeDeg - r.slopeDeg,
      includedAngleReliefChordDeg: 180 - l.reliefChordSlopeDeg - r.reliefChordSlopeDeg,
      spreadMm: l.innerEdgeYMm + r.innerEdgeYMm,
    });
  }
  return { source, left, right, pairs, definitions: MEASURE_DEFINITIONS, remarks };
}

/** 20, 50 and 80 % of a length and every 50 mm. */
export function defaultStations(lengthMm: number): StationPlane[] {
  const shares = [20, 50, 80].map((percent) => ({ name: `${percent} %`, bMm: (percent / 100) * lengthMm }));
  return [...shares, ...everyStep(lengthMm)];
}

function stationsOfTree(tree: Tree): StationPlane[] {
  const own = [...tree.right.shape.stations, ...tree.left.shape.stations].map(({ name, atMm }) => ({
    name,
    bMm: atMm,
  }));
  const named = own.filter((s, i) => own.findIndex((o) => o.name === s.name && o.bMm === s.bMm) === i);
  const handHole = { name: 'hand hole', bMm: tree.parts.handHoleMm };
  return [...named, handHole, ...everyStep(treeLengthMm(tree))];
}

function everyStep(lengthMm: number): StationPlane[] {
  const count = Math.ceil(lengthMm / STEP_MM) - 1;
  return Array.from({ length: count }, (_, i) => ({ name: `${STEP_MM * (i + 1)} mm`, bMm: STEP_MM * (i + 1) }));
}
