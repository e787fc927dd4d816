import { createHeightJet, createUnderside, type Underside } from '../../packages/geometry/src/bar/index.ts';
import { type Answer, type FlexCase, type KeptAnswer, thicknessWithin, undersideOf } from './flex-cases.fixture.ts';
import { solveSolid } from './flex-ccx.fixture.ts';
import { type Block, meshSolid, type SolidBody } from './flex-solid.fixture.ts';

/** Element ends across: the strips of the edge relief are elements of their own. */
const ACROSS = [-1, -0.84, -0.6, -0.2, 0.2, 0.6, 0.84, 1];
/** Element ends from a free tip edge (its corners are rounded over 25 mm) and from a held end, mm. */
const FROM_TIP_EDGE = [2, 6, 12, 19, 25];
const FROM_HELD = [3, 8, 15];
const LONGEST = 13;

type Span = FlexCase['spans'][number];

/**
 * The bar's solid over (b, t): the underside lifted by a share of the thickness along the inward normal that the underside has
 * without its edge relief. Along the relief's own normal sides would cross, because its radius (5 to 12 mm) is less than the
 * thickness; so relief shows on the top as well, as in the project's own solids.
 */
function barBody(c: FlexCase, span: Span): SolidBody {
  const bar = undersideOf(c);
  const plain = createUnderside({ ...c.shape, reliefDepthMm: 0, reliefFraction: 0 });
  return {
    outward: (b, t) => outwardNormal(bar, b, t),
    point(b, t, s) {
      const row = bar.row(b);
      const y = row.middleY[0] + t * row.outlineHalfWidthY;
      const { z } = bar.heightJet(row, y, createHeightJet());
      const rise = s * thicknessWithin(bar, b, span.fromMm, span.toMm);
      const n = outwardNormal(plain, b, t);
      return [b - c.shape.rockLowPointMm - rise * n[0], y - rise * n[1], z - rise * n[2]];
    },
  };
}

function outwardNormal(bar: Underside, b: number, t: number): [number, number, number] {
  const row = bar.row(b);
  const jet = bar.heightJet(row, row.middleY[0] + t * row.outlineHalfWidthY, createHeightJet());
  const long = Math.hypot(jet.zb, jet.zy, 1);
  return [jet.zb / long, jet.zy / long, -1 / long];
}

/** Element ends along one span: close at rounded corners and held ends, even between, and one where the rail begins. */
function endsAlong({ fromMm, toMm, held }: Span, alsoAt: readonly number[]): number[] {
  const from = held === 'to' ? FROM_TIP_EDGE : FROM_HELD;
  const to = held === 'from' ? FROM_TIP_EDGE : FROM_HELD;
  const start = [fromMm, ...from.map((x) => fromMm + x)];
  const stop = [...to.map((x) => toMm - x).reverse(), toMm];
  const stops = [start[start.length - 1]!, ...alsoAt.filter((x) => x > fromMm + 20 && x < toMm - 20), stop[0]!];
  const between = stops.slice(1).flatMap((end, i) => evenly(stops[i]!, end, Math.ceil((end - stops[i]!) / LONGEST)));
  return [...start, ...between.slice(0, -1), ...stop];
}

/** Ends of equal pieces, without the first. */
const evenly = (from: number, to: number, pieces: number): number[] =>
  Array.from({ length: pieces }, (_, k) => from + ((to - from) * (k + 1)) / pieces);

export const halved = (ends: readonly number[]): number[] =>
  ends.flatMap((x, i) => (i === 0 ? [x] : [(ends[i - 1]! + x) / 2, x]));

/** @param level 0 is the coarse mesh; each further one halves bricks along and across, the first also every ply */
function blocksOf(c: FlexCase, level: number): Block[] {
  const refine = (ends: readonly number[]): readonly number[] =>
    Array.from({ length: level }).reduce<readonly number[]>((now) => halved(now), ends);
  return c.spans.map((span) => {
    const middle = (span.fromMm + span.toMm) / 2;
    const { lowerShare, tipLengthFrontMm, tipLengthRearMm, lengthMm } = c.shape;
    const upper = middle < tipLengthFrontMm || middle > lengthMm - tipLengthRearMm ? 'tip' : 'bar';
    const s = level === 0 ? [0, lowerShare, 1] : halved([0, lowerShare, 1]);
    return {
      body: barBody(c, span),
      b: refine(endsAlong(span, c.rail === null ? [] : [c.rail.fromMm])),
      t: refine(ACROSS),
      s,
      materials: s.slice(1).map((top) => (top <= lowerShare ? 'lower' : upper)),
      held: span.held,
    };
  });
}

/** Answers a case with the outside program on one mesh. */
export function solveCase(c: FlexCase, level: number): Answer {
  const mesh = meshSolid(blocksOf(c, level));
  const used = new Set(mesh.bricks.map((e) => e.material));
  const materials = Object.fromEntries(
    Object.entries(c.modulusMPa)
      .filter(([name]) => used.has(name))
      .map(([name, modulusMPa]) => [name, { modulusMPa, poisson: c.poisson }]),
  );
  const { displacement, rounds, ...forces } = solveSolid(mesh, {
    materials,
    bed: c.bed,
    pressureMPa: c.pressureKPa / 1000,
    rail: c.rail,
  });
  const bar = undersideOf(c);
  const places = c.at.bMm.flatMap((bMm) => {
    const row = bar.row(bMm);
    const share = row.outlineHalfWidthY / row.halfWidthY[0];
    return c.at.t.map((t) => ({ bMm, t, tau: t * share, u: displacement(bMm, t) }));
  });
  return {
    name: c.name,
    what: c.what,
    shape: c.shape,
    places,
    ...forces,
    footForceN: footForce(c),
    greatestMm: Math.max(...places.map((p) => Math.hypot(...p.u))),
    mesh: { bricks: mesh.bricks.length, nodes: mesh.nodes.size, rounds },
  };
}

/** The bed under the feet between the spans, which do not move: midpoint rule, 200 x 200 cells each, N. */
function footForce(c: FlexCase): number[] {
  const force = [0, 0, 0];
  const [bar, n] = [undersideOf(c), 200];
  for (let k = 1; k < c.spans.length && c.bed !== null; k++) {
    const [from, to] = [c.spans[k - 1]!.toMm, c.spans[k]!.fromMm];
    for (const b of evenly(from, to, n).map((end) => end - (to - from) / n / 2)) {
      const row = bar.row(b);
      const cellMm2 = ((to - from) * 2 * row.outlineHalfWidthY) / (n * n);
      const push = c.bed.nPerMm3 * Math.max(0, c.bed.c0Mm(b)) * cellMm2;
      for (let j = 0; j < n; j++) {
        const jet = bar.heightJet(
          row,
          row.middleY[0] + ((2 * j + 1) / n - 1) * row.outlineHalfWidthY,
          createHeightJet(),
        );
        // Plan area times (zb, zy, -1) is area times the outward unit normal.
        force[0]! -= push * jet.zb;
        force[1]! -= push * jet.zy;
        force[2]! += push;
      }
    }
  }
  return force;
}

/** An answer, and how far the next coarser mesh was off. */
export function withRefinement(fine: Answer, coarse: Answer): KeptAnswer {
  const apart = (p: readonly number[], q: readonly number[]): number => Math.hypot(...p.map((x, a) => x - q[a]!));
  const percent = (p: readonly number[], q: readonly number[]): number => (100 * apart(p, q)) / Math.hypot(...p);
  const moves = fine.places.map((p, i) => apart(p.u, coarse.places[i]!.u));
  const forces = [percent(fine.supportForceN, coarse.supportForceN)];
  if (Math.hypot(...fine.bedForceN) > 0) forces.push(percent(fine.bedForceN, coarse.bedForceN));
  return {
    ...fine,
    refinement: {
      movePercent: (100 * Math.max(...moves)) / fine.greatestMm,
      forcePercent: Math.max(...forces),
      coarserBricks: coarse.mesh.bricks,
    },
  };
}
