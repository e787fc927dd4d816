import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Carried, FacePoint, SolidMesh } from './flex-solid.fixture.ts';

/** What acts on a solid; signs and frame as in flex-cases.fixture.ts. */
export interface SolidLoad {
  readonly materials: Readonly<Record<string, { readonly modulusMPa: number; readonly poisson: number }>>;
  readonly bed: { readonly nPerMm3: number; readonly c0Mm: (bMm: number) => number } | null;
  /** On the underside along the inward normal. */
  readonly pressureMPa: number;
  readonly rail: { readonly fromMm: number; readonly toMm: number; readonly nPerMm2: number } | null;
  readonly forces?: readonly { readonly node: number; readonly force: readonly number[] }[];
  /** Nodes held in the directions from..to (1 x, 2 y, 3 z) besides the blocks' held ends. */
  readonly pinned?: readonly { readonly node: number; readonly from: number; readonly to: number }[];
}

export interface SolidAnswer {
  /** Of the underside, mm. @throws RangeError outside the solid */
  displacement(b: number, t: number): number[];
  readonly bedForceN: readonly number[];
  readonly railForceN: readonly number[];
  readonly pressureForceN: readonly number[];
  readonly supportForceN: readonly number[];
  readonly pressedShare: number;
  readonly rounds: number;
}

type Moves = ReadonlyMap<number, readonly number[]>;

const MOST_ROUNDS = 25;

/** null where the program is not installed. It ends `ccx -v` with a status other than 0 even when all is well. */
export function ccxVersion(): string | null {
  const said = spawnSync('ccx', ['-v'], { encoding: 'utf8' });
  return said.error === undefined ? (said.stdout.match(/Version\s+(\S+)/i)?.[1] ?? 'unknown') : null;
}

/**
 * Solves with ccx. One-sidedness is found from outside: only springs that press are in the deck, and it is written and run
 * again until nobody changes sides; each run is linear. A spring stands at every quadrature place of the underside's faces: a
 * node of its own that an equation ties to the face's outward move there, times sqrt(area), so that one stiffness serves all.
 */
export function solveSolid(mesh: SolidMesh, load: SolidLoad): SolidAnswer {
  const folder = mkdtempSync(join(tmpdir(), 'flex-'));
  const { rail, bed } = load;
  const edge = rail === null ? [] : mesh.innerEdge.filter((p) => p.b > rail.fromMm && p.b < rail.toMm);
  const pressing = (u: Moves): FacePoint[] =>
    bed === null ? [] : mesh.under.filter((p) => bed.c0Mm(p.b) + outwardMove(p, u) > 0);
  try {
    let pressed = pressing(new Map());
    for (let rounds = 1; rounds <= MOST_ROUNDS; rounds++) {
      const { u, printed } = runOnce(folder, deckOf(mesh, load, pressed, edge));
      const now = pressing(u);
      if (now.length === pressed.length && now.every((p, i) => p === pressed[i])) {
        return answer(mesh, load, u, printed, pressed, edge, rounds);
      }
      pressed = now;
    }
    throw new Error('places of the bed keep changing sides');
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const moved = (p: Carried, u: Moves): number[] =>
  [0, 1, 2].map((a) => p.nodes.reduce((sum, n, i) => sum + p.values[i]! * (u.get(n)?.[a] ?? 0), 0));

const outwardMove = (p: FacePoint, u: Moves): number => moved(p, u).reduce((sum, x, a) => sum + x * p.outward[a]!, 0);

function answer(
  mesh: SolidMesh,
  load: SolidLoad,
  u: Moves,
  printed: readonly number[],
  pressed: readonly FacePoint[],
  edge: readonly FacePoint[],
  rounds: number,
): SolidAnswer {
  // What acts straight on held nodes never passes through bricks: the program's printed forces leave it out.
  const support = [...printed];
  const total = (points: readonly FacePoint[], forceOf: (p: FacePoint) => number[]): number[] => {
    const sum = [0, 0, 0];
    for (const p of points) {
      const onHeld = p.nodes.reduce((s, n, i) => s + (mesh.held.has(n) ? p.values[i]! : 0), 0);
      forceOf(p).forEach((x, a) => {
        sum[a]! += x;
        support[a]! -= onHeld * x;
      });
    }
    return sum;
  };
  const { bed, rail, pressureMPa } = load;
  const area = (points: readonly FacePoint[]): number => points.reduce((sum, p) => sum + p.weight, 0);
  const bedForceN = total(pressed, (p) => {
    const push = bed === null ? 0 : bed.nPerMm3 * p.weight * (bed.c0Mm(p.b) + outwardMove(p, u));
    return p.outward.map((n) => -push * n);
  });
  const railForceN = total(edge, (p) => moved(p, u).map((x) => -(rail?.nPerMm2 ?? 0) * p.weight * x));
  const pressureForceN = total(mesh.under, (p) => p.areaVector.map((x) => pressureMPa * x));
  return {
    displacement(b, t) {
      const at = mesh.at(b, t);
      if (at === null) throw new RangeError(`no solid at ${b}, ${t}`);
      return moved(at, u);
    },
    bedForceN,
    railForceN,
    pressureForceN,
    supportForceN: support,
    pressedShare: area(pressed) / area(mesh.under),
    rounds,
  };
}

const number = (v: number): string => v.toExponential(11);

function deckOf(mesh: SolidMesh, load: SolidLoad, pressed: readonly FacePoint[], edge: readonly FacePoint[]): string {
  const out = ['*NODE, NSET=SOLID'];
  for (const [n, p] of mesh.nodes) out.push(`${n}, ${p.map(number).join(', ')}`);
  const under = addBricks(mesh, load, out);
  const springs = springsOf(mesh, load, pressed, edge);
  out.push(springs.model, '*ELSET, ELSET=UNDER', under.join(',\n'));
  if (mesh.held.size > 0) out.push('*NSET, NSET=HELD', [...mesh.held].join(',\n'));
  const pins = (load.pinned ?? []).map((p) => `${p.node}, ${p.from}, ${p.to}`);
  out.push('*BOUNDARY', [...(mesh.held.size > 0 ? ['HELD, 1, 3'] : []), ...pins, ...springs.fixed].join('\n'));
  out.push('*STEP', '*STATIC');
  const forces = (load.forces ?? []).flatMap(({ node, force }) =>
    force.flatMap((x, a) => (x === 0 ? [] : [`${node}, ${a + 1}, ${number(x)}`])),
  );
  if (forces.length + springs.loads.length > 0) out.push('*CLOAD', [...forces, ...springs.loads].join('\n'));
  if (load.pressureMPa !== 0) out.push('*DLOAD', `UNDER, P1, ${number(load.pressureMPa)}`);
  out.push('*NODE PRINT, NSET=SOLID', 'U');
  if (mesh.held.size > 0) out.push('*NODE PRINT, NSET=HELD, TOTALS=ONLY', 'RF');
  out.push('*END STEP', '');
  return out.filter((line, i) => line !== '' || i === out.length - 1).join('\n');
}

/** Bricks by material. Answers the numbers of those at the underside. */
function addBricks(mesh: SolidMesh, load: SolidLoad, out: string[]): number[] {
  const under: number[] = [];
  for (const [material, { modulusMPa, poisson }] of Object.entries(load.materials)) {
    const name = material.toUpperCase();
    out.push(`*ELEMENT, TYPE=C3D20R, ELSET=E${name}`);
    mesh.bricks.forEach((brick, i) => {
      if (brick.material !== material) return;
      out.push(`${i + 1}, ${brick.nodes.slice(0, 15).join(', ')},`, brick.nodes.slice(15).join(', '));
      if (brick.bottom) under.push(i + 1);
    });
    out.push(`*MATERIAL, NAME=${name}`, '*ELASTIC', `${number(modulusMPa)}, ${number(poisson)}`);
    out.push(`*SOLID SECTION, ELSET=E${name}, MATERIAL=${name}`);
  }
  return under;
}

/** One node, equation and spring for each place of the bed that presses, and three for each of the rail. */
function springsOf(mesh: SolidMesh, load: SolidLoad, pressed: readonly FacePoint[], edge: readonly FacePoint[]) {
  const equations: string[] = [];
  const fixed: string[] = [];
  const loads: string[] = [];
  const elements: string[] = [];
  let element = mesh.bricks.length;
  const spring = (set: string, dof: number, stiffness: number, each: readonly number[]): void => {
    if (each.length === 0) return;
    elements.push(`*ELEMENT, TYPE=SPRING1, ELSET=${set}`);
    for (const node of each) elements.push(`${++element}, ${node}`);
    elements.push(`*SPRING, ELSET=${set}`, String(dof), number(stiffness));
  };
  const tie = (node: number, dof: number, p: FacePoint, direction: readonly number[]): void => {
    const terms = p.nodes.flatMap((n, i) =>
      direction.flatMap((d, a) => {
        const c = Math.sqrt(p.weight) * p.values[i]! * d;
        return Math.abs(c) > 1e-14 ? [`${n}, ${a + 1}, ${number(c)}`] : [];
      }),
    );
    equations.push(String(terms.length + 1), `${node}, ${dof}, -1.`, ...terms);
  };
  const first = mesh.nodes.size + 1;
  const bedNodes = pressed.map((p, i) => {
    const c0 = load.bed?.c0Mm(p.b) ?? 0;
    tie(first + i, 1, p, p.outward);
    fixed.push(`${first + i}, 2, 3`);
    loads.push(`${first + i}, 1, ${number(-(load.bed?.nPerMm3 ?? 0) * Math.sqrt(p.weight) * c0)}`);
    return first + i;
  });
  spring('BED', 1, load.bed?.nPerMm3 ?? 0, bedNodes);
  const railNodes = edge.map((_, i) => first + pressed.length + i);
  for (const dof of [1, 2, 3]) {
    edge.forEach((p, i) => {
      tie(
        railNodes[i]!,
        dof,
        p,
        [1, 2, 3].map((a) => (a === dof ? 1 : 0)),
      );
    });
    spring(`RAIL${dof}`, dof, load.rail?.nPerMm2 ?? 0, railNodes);
  }
  const nodes = [...bedNodes, ...railNodes].map((n) => `${n}, 0., 0., 0.`);
  const model = nodes.length > 0 ? ['*NODE', ...nodes, ...elements, '*EQUATION', ...equations] : [];
  return { model: model.join('\n'), fixed, loads };
}

/** Displacements of all nodes, and the sum of forces on the held ones. @throws Error where the run did not finish or is not finite */
function runOnce(folder: string, deck: string): { u: Moves; printed: number[] } {
  writeFileSync(join(folder, 'solid.inp'), deck);
  const log = execFileSync('ccx', ['-i', 'solid'], {
    cwd: folder,
    env: { ...process.env, OMP_NUM_THREADS: '1' },
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (!log.includes('Job finished')) throw new Error(`ccx did not finish:\n${log.slice(-2000)}`);
  const lines = readFileSync(join(folder, 'solid.dat'), 'utf8').split('\n');
  const numbers = (line: string): number[] => line.trim().split(/\s+/).map(Number);
  const u = new Map<number, readonly number[]>();
  let finite = true;
  for (let i = lines.findIndex((l) => l.includes('displacements')) + 2; lines[i]!.trim() !== ''; i++) {
    const [node, ...move] = numbers(lines[i]!);
    u.set(node!, move);
    finite &&= move.every(Number.isFinite);
  }
  const total = lines.findIndex((l) => l.includes('total force'));
  const printed = total < 0 ? [0, 0, 0] : numbers(lines[total + 2]!);
  if (!finite || !printed.every(Number.isFinite)) throw new Error('not finite');
  return { u, printed };
}
