// Puts one known fault into a matched tree and asks which cause is named first. Prints the confusion table.
// After npm run build, from the checkout:
//   npx esbuild examples/cause-table.ts --format=esm --platform=node | node --input-type=module - --cases=198 --seed=1000
// --faults=2 puts two faults in at once and asks whether both are named; --strength=0.5 halves every fault.
import { readFileSync } from 'node:fs';
import {
  type BackSurface,
  buildSectionsBack,
  buildTree,
  type CauseName,
  type Finding,
  type Fit,
  fitPatternToBack,
  fitTree,
  observeAll,
  type PatternDocument,
  type Random,
  type Reading,
  readPattern,
  readTree,
  resolvePattern,
  type SectionsBackDocument,
  type Setup,
  seededRandom,
  setupSchema,
  type Tree,
  treeLengthMm,
  withFlare,
  withLength,
  withRock,
  withSlopes,
  withWiderSpread,
} from '@barwright/geometry';

const RADIANS = Math.PI / 180;

/** Faults that can be put in, in the order of the printed table. */
export const INJECTED: readonly CauseName[] = [
  'length',
  'rock',
  'slope front',
  'slope rear',
  'twist',
  'spread',
  'flare',
  'set position',
  'load position',
  'layers',
  'asymmetry',
];

export interface CauseCase {
  readonly seed: number;
  readonly back: string;
  readonly injected: readonly CauseName[];
  /** What was done, in words. */
  readonly how: string;
  /** The finding that was looked at; null where nothing new was found. */
  readonly finding: Finding | null;
  /** Cause named first for it, or 'none'. */
  readonly first: string;
  /** Every cause named for any finding that the matched tree did not have. */
  readonly named: readonly CauseName[];
}

interface Bench {
  readonly document: SectionsBackDocument;
  readonly back: BackSurface;
  readonly tree: Tree;
  readonly setup: Setup;
}

export interface CauseTableOptions {
  readonly cases: number;
  readonly seed: number;
  /** Faults put in at once: 1 or 2. */
  readonly faults?: 1 | 2;
  readonly causes?: readonly CauseName[];
  /** Multiplies every fault's size; 1 by default. */
  readonly strength?: number;
}

/** What the cases are made from: backs to vary and a pattern whose widths, crown and flares are kept. */
export interface CauseTableDocuments {
  readonly backs: readonly SectionsBackDocument[];
  readonly pattern: PatternDocument;
}

/** Runs the cases: seeded variations of the given backs, matched trees, seeded faults. */
export function causeCases(documents: CauseTableDocuments, options: CauseTableOptions): CauseCase[] {
  const causes = options.causes ?? INJECTED;
  const out: CauseCase[] = [];
  for (let i = 0; i < options.cases; i++) {
    const seed = options.seed + i;
    const random = seededRandom(seed);
    const first = causes[i % causes.length]!;
    const rest = causes.filter((c) => !sharesPart(c, first));
    const injected = options.faults === 2 ? [first, rest[Math.floor(random() * rest.length)]!] : [first];
    const document = documents.backs[Math.floor(random() * documents.backs.length)]!;
    const matched = matchedBench(document, documents.pattern, random);
    out.push(oneCase(seed, matched, injected, random, options.strength ?? 1));
  }
  return out;
}

/** Twist is made of both slopes, so they are not put in together. */
function sharesPart(a: CauseName, b: CauseName): boolean {
  const slopes = ['slope front', 'slope rear', 'twist'];
  return a === b || (slopes.includes(a) && slopes.includes(b));
}

function oneCase(
  seed: number,
  matched: Bench,
  injected: readonly CauseName[],
  random: Random,
  strength: number,
): CauseCase {
  const before = fitTree(matched.tree, matched.back, matched.setup, { detail: 'figures' });
  let bench = matched;
  const how: string[] = [];
  for (const cause of injected) {
    const { changed, words } = inject(bench, cause, random, strength);
    bench = changed;
    how.push(words);
  }
  const after = fitTree(bench.tree, bench.back, bench.setup, { detail: 'findings' });
  const fresh = freshFindings(after, readTree(before.seated, before.laidOn));
  const finding = fresh[0] ?? null;
  return {
    seed,
    back: matched.document.name,
    injected,
    how: how.join(' and '),
    finding,
    first: finding?.causes[0]?.cause ?? 'none',
    named: [...new Set(fresh.flatMap((f) => f.causes.slice(0, 3).flatMap((c) => c.names)))],
  };
}

/** A finding is the fault's when at least this share of its size was not there in the matched tree. */
const FRESH_SHARE = 0.2;

/** Findings with causes that the matched tree did not have, by what came on top of it relative to their rule. */
function freshFindings(after: Fit, matched: Reading): Finding[] {
  const observations = observeAll(readTree(after.seated, after.laidOn));
  return observations
    .map((o, i) => {
      const had = o.sizeIn(matched);
      const added = had === null ? 0 : 1 - Math.max(0, had) / o.sizeMm;
      return { finding: after.result.findings[i]!, added, gain: added * o.ratio };
    })
    .filter((f) => f.added >= FRESH_SHARE && f.finding.causes.length > 0)
    .sort((a, b) => b.gain - a.gain)
    .map((f) => f.finding);
}

const between = (random: Random, low: number, high: number): number => low + (high - low) * random();
const eitherSign = (random: Random): 1 | -1 => (random() < 0.5 ? -1 : 1);

/** A variation of a demo back, even-sided and without the blade's bulge, and a tree matched to it. */
function matchedBench(document: SectionsBackDocument, pattern: PatternDocument, random: Random): Bench {
  const flatter = between(random, -3, 3);
  const rounder = between(random, 0.85, 1.15);
  const turned = between(random, -1.5, 1.5);
  const varied: SectionsBackDocument = {
    ...document,
    bearingHeightMm: document.bearingHeightMm.map((z) => z * rounder),
    slopeDeg: document.slopeDeg.map((row, i) => {
      const along = (2 * i) / (document.slopeDeg.length - 1) - 1;
      return row.map((s) => s + flatter + turned * along);
    }),
    asymmetry: { left: null, right: null },
    hollow: { left: null, right: null },
    bladeBulge: { left: { heightMm: 0 }, right: { heightMm: 0 } },
  };
  const back = buildSectionsBack(varied);
  const setup = setupSchema.parse({ samples: 3000 });
  const start = buildTree(resolvePattern(pattern));
  return { document: varied, back, setup, tree: fitPatternToBack(start, back, setup, { length: true }) };
}

interface Injection {
  readonly changed: Bench;
  readonly words: string;
}

/** Puts one fault in, big enough to matter. */
function inject(bench: Bench, cause: CauseName, random: Random, strength: number): Injection {
  const { tree, setup } = bench;
  const shape = tree.right.shape;
  const sign = eitherSign(random);
  const withTree = (changed: Tree, words: string): Injection => ({ changed: { ...bench, tree: changed }, words });
  const withSetup = (changed: Setup, words: string): Injection => ({ changed: { ...bench, setup: changed }, words });
  switch (cause) {
    case 'length': {
      const add = strength * between(random, 90, 160);
      return withTree(withLength(tree, treeLengthMm(tree) + add), `length ${add.toFixed(0)} mm more`);
    }
    case 'rock': {
      const chord = shape.lengthMm - shape.flareZoneFrontMm - shape.flareZoneRearMm;
      const sag = sign * strength * between(random, 6, 12);
      return withTree(
        withRock(tree, shape.rockCurvaturePerMm + (8 * sag) / chord ** 2),
        `sag ${sag.toFixed(1)} mm more`,
      );
    }
    case 'slope front': {
      const by = sign * strength * between(random, 6, 10);
      return withTree(withSlopes(tree, by * RADIANS, 0), `front ${by.toFixed(1)} degrees steeper`);
    }
    case 'slope rear': {
      const by = sign * strength * between(random, 6, 10);
      return withTree(withSlopes(tree, 0, by * RADIANS), `rear ${by.toFixed(1)} degrees steeper`);
    }
    case 'twist': {
      const by = sign * strength * between(random, 5, 8);
      return withTree(withSlopes(tree, by * RADIANS, -by * RADIANS), `twist ${(2 * by).toFixed(1)} degrees more`);
    }
    case 'spread': {
      const by = sign * strength * between(random, 40, 60);
      return withTree(withWiderSpread(tree, by), `spread ${by.toFixed(0)} mm wider`);
    }
    case 'flare': {
      const lift = shape.flareLiftFrontMm - strength * (shape.flareLiftFrontMm - between(random, 0, 3));
      return withTree(withFlare(tree, lift, shape.flareLiftRearMm), `front lift only ${lift.toFixed(1)} mm`);
    }
    case 'set position': {
      const by = sign * strength * between(random, 60, 100);
      return withSetup({ ...setup, setPositionMm: setup.setPositionMm + by }, `set ${by.toFixed(0)} mm further back`);
    }
    case 'load position': {
      const at = 47 + sign * strength * between(random, 18, 25);
      return withSetup({ ...setup, load: { ...setup.load, at } }, `load at ${at.toFixed(0)} %`);
    }
    case 'layers': {
      const layers = [{ name: 'thin pad', thicknessMm: 6, stiffnessKPaPerMm: strength * between(random, 25, 60) }];
      return withSetup({ ...setup, layers }, 'thin stiff pad alone');
    }
    case 'asymmetry':
      return injectAsymmetry(bench, random, strength);
  }
}

function injectAsymmetry(bench: Bench, random: Random, strength: number): Injection {
  const uneven = (sign: number) => ({
    slopeDeg: sign * strength * between(random, 4, 6),
    liftMm: sign * strength * between(random, 4, 8),
    fromMm: 0,
    toMm: 300,
    rampMm: 80,
  });
  const document = { ...bench.document, asymmetry: { left: uneven(1), right: uneven(-1) } };
  return { changed: { ...bench, document, back: buildSectionsBack(document) }, words: 'sides uneven' };
}

/** Rows: what was put in. Columns: what was named first. */
export function confusionTable(cases: readonly CauseCase[]): string {
  const seen = [...new Set([...INJECTED, ...cases.map((c) => c.first)])];
  const columns = seen.filter((name) => cases.some((c) => c.first === name));
  const width = Math.max(...INJECTED.map((n) => n.length));
  const head = `${''.padEnd(width)} | ${columns.join(' | ')}`;
  const rows = INJECTED.filter((name) => cases.some((c) => c.injected[0] === name)).map((name) => {
    const own = cases.filter((c) => c.injected[0] === name);
    const counts = columns.map((column) => {
      const n = own.filter((c) => c.first === column).length;
      return (n === 0 ? '.' : String(n)).padStart(column.length);
    });
    return `${name.padEnd(width)} | ${counts.join(' | ')}`;
  });
  return [head, ...rows].join('\n');
}

/** true where the case's faults were found: one is named first, two are both named. */
export function isFound(c: CauseCase): boolean {
  return c.injected.length === 1 ? c.first === c.injected[0] : c.injected.every((name) => c.named.includes(name));
}

function main(flags: ReadonlyMap<string, number>): void {
  const read = (name: string) => JSON.parse(readFileSync(`examples/${name}.json`, 'utf8'));
  const backs = ['dumpling', 'heron', 'tuesday'].map((name) => read(`${name}.back`) as SectionsBackDocument);
  const cases = causeCases(
    { backs, pattern: readPattern(read('wren.pattern')) },
    {
      cases: flags.get('cases') ?? 198,
      seed: flags.get('seed') ?? 1000,
      faults: flags.get('faults') === 2 ? 2 : 1,
      strength: flags.get('strength') ?? 1,
    },
  );
  for (const c of cases.filter((one) => !isFound(one))) {
    const causes = c.finding?.causes.map((f) => `${f.cause} ${f.sizeMm.toFixed(1)} -> ${f.sizeWithoutMm.toFixed(1)}`);
    console.log(
      `seed ${c.seed}, ${c.back}: ${c.how}; read ${c.finding?.code ?? 'nothing new'}: ${causes?.join(', ') ?? ''}`,
    );
  }
  if (flags.get('faults') !== 2) console.log(confusionTable(cases));
  console.log(`found ${cases.filter(isFound).length} of ${cases.length}`);
}

const flags = new Map(
  process.argv.flatMap((arg) => {
    const match = /^--(cases|seed|faults|strength)=([\d.]+)$/.exec(arg);
    return match === null ? [] : [[match[1]!, Number(match[2])] as const];
  }),
);
if (flags.has('cases')) main(flags);
