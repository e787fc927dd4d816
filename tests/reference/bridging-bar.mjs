// Makes the stored answers of the bridging bar with an outside finite-element program (CalculiX CrunchiX, command ccx).
//   node tests/reference/bridging-bar.mjs [where the program runs, default a new temporary folder]
// Model: the rear half of a hollow strip (curvature kap relative to a level back), symmetric about x = 0, of 8-node bricks
// without lateral strain (nu = 0) and so stiff that it stays rigid to 1e-3 mm, over a fixed block. Between them
// surface-to-surface contact with linear pressure-overclosure: a one-sided foundation of stiffness k. The strip starts
// pressed in by START mm at its end, because a free body that touches nothing is singular.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const LENGTH = 500;
const WIDTH = 60;
const K = 0.03;
const KAP = 1 / 1500 - 1 / 4000;
const ALONG = 125;
const START = 0.2;
const MODULUS = 1e7;
const LOADS = [100, 1000, 3000];

const half = LENGTH / 2;
/** Underside above the back before loading: -START at the end, hollow towards the middle. */
const underside = (x) => (KAP / 2) * (half * half - x * x) - START;

function deck(forceN) {
  const out = ['*NODE, NSET=NALL'];
  const f = (v) => v.toFixed(6);
  const barNode = (i, j, k) => 1 + ((i * 2 + j) * 2 + k);
  for (let i = 0; i <= ALONG; i++)
    for (let j = 0; j < 2; j++)
      for (let k = 0; k < 2; k++) {
        const x = (half * i) / ALONG;
        out.push(`${barNode(i, j, k)}, ${f(x)}, ${f((j - 0.5) * WIDTH)}, ${f(k === 0 ? underside(x) : 80)}`);
      }
  const base = 10_000;
  const blockNode = (i, j, k) => base + 1 + ((i * 2 + j) * 2 + k);
  const blocks = 30;
  for (let i = 0; i <= blocks; i++)
    for (let j = 0; j < 2; j++)
      for (let k = 0; k < 2; k++)
        out.push(
          `${blockNode(i, j, k)}, ${f(-10 + ((half + 20) * i) / blocks)}, ${f((j - 0.5) * (WIDTH + 20))}, ${f(k === 0 ? -10 : 0)}`,
        );
  const brick = (node, i) =>
    [node(i, 0, 0), node(i + 1, 0, 0), node(i + 1, 1, 0), node(i, 1, 0)]
      .concat([node(i, 0, 1), node(i + 1, 0, 1), node(i + 1, 1, 1), node(i, 1, 1)])
      .join(', ');
  out.push('*ELEMENT, TYPE=C3D8I, ELSET=BAR');
  for (let i = 0; i < ALONG; i++) out.push(`${i + 1}, ${brick(barNode, i)}`);
  out.push('*ELEMENT, TYPE=C3D8, ELSET=BLOCK');
  for (let i = 0; i < blocks; i++) out.push(`${base + i + 1}, ${brick(blockNode, i)}`);
  out.push('*SURFACE, NAME=UNDER, TYPE=ELEMENT', 'BAR, S1', '*SURFACE, NAME=BACK, TYPE=ELEMENT', 'BLOCK, S2');
  const list = (name, nodes) => out.push(`*NSET, NSET=${name}`, ...nodes.map(String));
  list('MIDDLE', [barNode(0, 0, 0), barNode(0, 0, 1), barNode(0, 1, 0), barNode(0, 1, 1)]);
  list('SIDE', Array.from({ length: ALONG + 1 }, (_, i) => [barNode(i, 0, 0), barNode(i, 0, 1)]).flat());
  list(
    'FIXED',
    Array.from({ length: (blocks + 1) * 4 }, (_, i) => base + 1 + i),
  );
  list(
    'EDGE',
    Array.from({ length: ALONG + 1 }, (_, i) => barNode(i, 0, 0)),
  );
  out.push('*MATERIAL, NAME=HARD', '*ELASTIC', `${f(MODULUS)}, 0.`);
  out.push('*SOLID SECTION, ELSET=BAR, MATERIAL=HARD', '*SOLID SECTION, ELSET=BLOCK, MATERIAL=HARD');
  out.push('*SURFACE INTERACTION, NAME=SI', '*SURFACE BEHAVIOR, PRESSURE-OVERCLOSURE=LINEAR', String(K));
  out.push('*CONTACT PAIR, INTERACTION=SI, TYPE=SURFACE TO SURFACE', 'UNDER, BACK');
  out.push('*BOUNDARY', 'MIDDLE, 1', 'SIDE, 2', 'FIXED, 1, 3');
  out.push('*STEP, NLGEOM, INC=1000', '*STATIC', '0.05, 1., 1e-5, 0.1', '*DLOAD');
  out.push(`BAR, P2, ${(forceN / (LENGTH * WIDTH)).toExponential(9)}`);
  out.push('*NODE PRINT, NSET=EDGE, FREQUENCY=1000', 'U', '*NODE PRINT, NSET=FIXED, TOTALS=ONLY, FREQUENCY=1000', 'RF');
  out.push('*END STEP', '');
  return out.join('\n');
}

/** Last table of that heading in the result file: rows of numbers. */
function lastTable(text, heading) {
  const part = text.split('\n \n').flatMap((p) => p.split('\n\n'));
  const at = part.findLastIndex((p) => p.includes(heading));
  return part[at + 1]
    .trim()
    .split('\n')
    .map((line) => line.trim().split(/\s+/).map(Number));
}

function solve(folder, forceN) {
  const job = join(folder, `bridge-${forceN}`);
  writeFileSync(`${job}.inp`, deck(forceN));
  const log = execFileSync('ccx', ['-i', job], { env: { ...process.env, OMP_NUM_THREADS: '2' }, encoding: 'utf8' });
  if (!log.includes('Job finished')) throw new Error(`ccx did not finish at ${forceN} N`);
  const text = readFileSync(`${job}.dat`, 'utf8');
  const moved = lastTable(text, 'displacements');
  const reaction = lastTable(text, 'total force')[0];
  const gaps = moved.map((row, i) => underside((half * i) / ALONG) + row[3]);
  if (![...gaps, ...reaction].every(Number.isFinite)) throw new Error('not finite');
  // The block's fixed nodes answer the contact: half of the load.
  if (Math.abs(Math.abs(reaction[2]) - forceN / 2) > 1e-3 * forceN)
    throw new Error(`does not carry ${forceN} N: ${reaction}`);
  const first = gaps.findIndex((g) => g < 0);
  const share = gaps[first - 1] / (gaps[first - 1] - gaps[first]);
  return {
    forceN,
    openHalfLengthMm: (half * (first - 1 + share)) / ALONG,
    endDepthMm: -gaps[ALONG],
    endPressureKPa: -gaps[ALONG] * K * 1000,
    middleGapMm: gaps[0],
    carriedN: 2 * Math.abs(reaction[2]),
  };
}

const folder = process.argv[2] ?? mkdtempSync(join(tmpdir(), 'bridge-'));
// ccx -v ends with a status other than 0 even when all is well.
const version = spawnSync('ccx', ['-v'], { encoding: 'utf8' }).stdout.match(/Version\s+(\S+)/i)?.[1] ?? 'unknown';
const answers = LOADS.map((forceN) => solve(folder, forceN));
const file = join(import.meta.dirname, 'bridging-bar.json');
writeFileSync(
  file,
  `${JSON.stringify(
    {
      provenance: {
        program: 'CalculiX CrunchiX (ccx)',
        version,
        script: 'tests/reference/bridging-bar.mjs',
        modelled:
          'Rigid hollow strip 500 x 60 mm, curvature 1/1500 - 1/4000 per mm relative to a level back, on a one-sided linear foundation 0.03 N/mm3: surface-to-surface contact, pressure-overclosure LINEAR, NLGEOM, 125 x 1 x 1 C3D8I on the half model, E 1e7 MPa, nu 0.',
        tolerance: {
          endDepthPercent: 0.35,
          openHalfLengthPercent: 1,
          why: 'Area and gap are taken on the sloping underside (slope up to 0.1 at the end, 0.5 % of area) while the closed form counts plan area; near closing, the open length c = sqrt(2 gap / kap) magnifies 0.2 % of depth to 0.7 %.',
        },
      },
      answers,
    },
    null,
    2,
  )}\n`,
);
process.stdout.write(`${JSON.stringify(answers, null, 1)}\n`);
