import { solveSolid } from './flex-ccx.fixture.ts';
import { type Block, meshSolid, type SolidBody, type SolidMesh } from './flex-solid.fixture.ts';

/** A straight beam with a closed form, sent through the same mesh, deck and springs as the bars. mm, N, MPa; nu = 0. */
export interface BeamTest {
  readonly name: string;
  readonly source: string;
  /** Move of the underside at b = 0, upward in cantilevers and into the bed on springs, mm. */
  readonly closedFormMm: number;
  /** How far the solid may be from beam theory, and why. */
  readonly withinPercent: number;
  readonly why: string;
  solveMm(): number;
}

const LENGTH = 120;
const WIDTH = 20;
const ROOT = 12;
const EDGE = 4;

const evenly = (from: number, to: number, pieces: number): number[] =>
  Array.from({ length: pieces + 1 }, (_, i) => from + ((to - from) * i) / pieces);

/** Level underside, thickness even from b = 0 to the end. */
const straight = (widthMm: number, lengthMm: number, edgeMm: number, rootMm: number): SolidBody => ({
  outward: () => [0, 0, -1],
  point: (b, t, s) => [b, (t * widthMm) / 2, s * (edgeMm + ((rootMm - edgeMm) * b) / lengthMm)],
});

const cantilever = (materials: readonly string[]): Block => ({
  body: straight(WIDTH, LENGTH, EDGE, ROOT),
  b: evenly(0, LENGTH, 24),
  t: evenly(-1, 1, 2),
  s: evenly(0, 1, 2),
  materials,
  held: 'to',
});

/** A force spread evenly over the end face x = 0 of equal bricks: -1/12 on corners, 1/3 on middles of each. */
function endForce(mesh: SolidMesh, force: readonly number[]): { node: number; force: number[] }[] {
  const faces = mesh.bricks
    .map((e) => e.nodes.map((node, i) => ({ node, share: i < 8 ? -1 / 12 : 1 / 3 })))
    .map((own) => own.filter(({ node }) => mesh.nodes.get(node)![0] === 0))
    .filter((own) => own.length === 8);
  const shares = new Map<number, number>();
  for (const { node, share } of faces.flat()) shares.set(node, (shares.get(node) ?? 0) + share / faces.length);
  return [...shares].map(([node, share]) => ({ node, force: force.map((x) => x * share) }));
}

/** Tip deflection of a cantilever bending-stiff EI0 (h/h0)^3, from its end load or even load: quadrature of VALIDATION A5. */
const bending = (ei0: number, momentAt: (u: number) => number): number =>
  integral((u) => (momentAt(u) * u) / (ei0 * (heightAt(u) / ROOT) ** 3));

const shear = (gMPa: number, forceAt: (u: number) => number): number =>
  integral((u) => forceAt(u) / ((5 / 6) * gMPa * WIDTH * heightAt(u)));

const heightAt = (u: number): number => EDGE + ((ROOT - EDGE) * u) / LENGTH;

/** Midpoint rule from tip to root. */
function integral(f: (u: number) => number, pieces = 20_000): number {
  let sum = 0;
  for (let i = 0; i < pieces; i++) sum += f(((i + 0.5) * LENGTH) / pieces);
  return (sum * LENGTH) / pieces;
}

const A5 = 'VALIDATION A5 (Roark/Gere, from memory)';
const cubic = (WIDTH * ROOT ** 3) / 12;

function solveCantilever(lower: number, upper: number, endN: number, pressureMPa: number): number {
  const mesh = meshSolid([cantilever(['lower', 'upper'])]);
  const materials = { lower: { modulusMPa: lower, poisson: 0 }, upper: { modulusMPa: upper, poisson: 0 } };
  const forces = endN === 0 ? [] : endForce(mesh, [0, 0, endN]);
  return solveSolid(mesh, { materials, bed: null, rail: null, pressureMPa, forces }).displacement(0, 0)[2]!;
}

/** Two bonded layers of equal thickness and moduli e1, e2: VALIDATION A5's EI with h1 = h2 = h / 2. */
const bonded = (e1: number, e2: number): number => {
  const h = ROOT / 2;
  return ((WIDTH / 12) * (e1 ** 2 + e2 ** 2 + 14 * e1 * e2) * h ** 4) / ((e1 + e2) * h);
};

/** Half of a weightless strip on springs that only push: symmetric about b = 0, loaded there. */
function solveStrip(): number {
  const [length, width, h] = [120, 60, 8];
  const mesh = meshSolid([
    {
      ...cantilever(['strip']),
      body: straight(width, length, h, h),
      b: evenly(0, length, 40),
      s: [0, 1],
      held: 'none',
    },
  ]);
  const where = (fits: (p: readonly number[]) => boolean): number[] =>
    [...mesh.nodes].filter(([, p]) => fits(p)).map(([n]) => n);
  const middle = where((p) => p[0] === 0).map((node) => ({ node, from: 1, to: 1 }));
  const side = where((p) => p[1] === -width / 2 && p[2] === 0).map((node) => ({ node, from: 2, to: 2 }));
  const solved = solveSolid(mesh, {
    materials: { strip: { modulusMPa: 900, poisson: 0 } },
    // Everything touches at first: a body that touches nothing is loose.
    bed: { nPerMm3: 0.03, c0Mm: () => 1e-9 },
    rail: null,
    pressureMPa: 0,
    forces: endForce(mesh, [0, 0, -50]),
    pinned: [...middle, ...side],
  });
  return -solved.displacement(0, 0)[2]!;
}

export const BEAM_TESTS: readonly BeamTest[] = [
  {
    name: 'tapered cantilever, end load 20 N',
    source: A5,
    closedFormMm: bending(900 * cubic, (u) => 20 * u) + shear(450, () => 20),
    withinPercent: 0.25,
    why: 'beam theory with shear; the end force is spread evenly over the end face, and the taper tilts the axis by 0.033',
    solveMm: () => solveCantilever(900, 900, 20, 0),
  },
  {
    name: 'tapered cantilever, even pressure 10 kPa',
    source: A5,
    closedFormMm: bending(900 * cubic, (u) => 0.1 * u * u) + shear(450, (u) => 0.2 * u),
    withinPercent: 0.2,
    why: 'beam theory with shear; pressure acts on the underside, not on the axis, which the taper tilts by 0.033',
    solveMm: () => solveCantilever(900, 900, 0, 0.01),
  },
  {
    name: 'tapered cantilever in two layers, 1000 under 250 MPa, end load 20 N',
    source: A5,
    closedFormMm: bending(bonded(1000, 250), (u) => 20 * u),
    withinPercent: 0.9,
    why: 'the closed form leaves out shear, about 0.4 %, and the end force is spread evenly over unlike layers',
    solveMm: () => solveCantilever(1000, 250, 20, 0),
  },
  {
    name: 'tapered cantilever in two layers, 200 under 900 MPa, end load 20 N',
    source: A5,
    closedFormMm: bending(bonded(200, 900), (u) => 20 * u),
    withinPercent: 0.9,
    why: 'the closed form leaves out shear, about 0.4 %, and the end force is spread evenly over unlike layers',
    solveMm: () => solveCantilever(200, 900, 20, 0),
  },
  {
    name: 'strip on one-sided springs, 100 N at the middle',
    source: 'VALIDATION A4 (Hetenyi 1946; tensionless Weitsman 1970, J Appl Mech 37, from memory)',
    // (P lam / 2 k') coth(pi / 2) for E 900, 60 x 8 mm, k' 1.8 N/mm2; two-sided springs would be 8.3 % stiffer.
    closedFormMm: 0.6367054,
    withinPercent: 0.8,
    why: 'the closed form leaves out shear: lam^2 EI over the shear stiffness is 0.57 %',
    solveMm: solveStrip,
  },
];
