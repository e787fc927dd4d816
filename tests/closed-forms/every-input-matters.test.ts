import { describe, expect, it } from 'vitest';
import { demoBack } from '../../packages/geometry/src/back/demo-backs.fixture.ts';
import { buildBack } from '../../packages/geometry/src/back/index.ts';
import { demoShape } from '../../packages/geometry/src/bar/demo-shapes.fixture.ts';
import { treeOf } from '../../packages/geometry/src/bar/demo-tree.fixture.ts';
import type { BarShape, BarStation, Tree } from '../../packages/geometry/src/bar/index.ts';
import { fitTree } from '../../packages/geometry/src/findings/index.ts';
import { bearingCapacity, SETUP_DEFAULTS, type Setup } from '../../packages/geometry/src/seating/index.ts';

/** VALIDATION A10: an input that changes no output is either dead or forgotten. */
const backs = new Map<string, ReturnType<typeof buildBack>>();
function backFor(legForward: Setup['legForward']) {
  const known = backs.get(legForward) ?? buildBack(demoBack('tuesday'), { legForward });
  backs.set(legForward, known);
  return known;
}

const BASE: Setup = { ...SETUP_DEFAULTS, samples: 300 };

/** Every number a fit says, in one text. */
function outcome(tree: Tree, setup: Setup, withCapacity = false): string {
  const { result, seated } = fitTree(tree, backFor(setup.legForward), setup, { detail: 'figures' });
  const capacity = withCapacity ? bearingCapacity(seated, { positions: [47] }) : null;
  return JSON.stringify([result, capacity]);
}

const post = demoShape('post');
const baseTree = treeOf(post);

/** A pull straight down, and each of its fields changed against it: none may stay without effect. */
function pullChanges(): Record<string, (s: Setup) => Setup> {
  const pull = { name: 'hand', at: 25, offsetMm: 40, heightMm: 100, rearN: 10, rightN: 10, downN: 80 };
  const without = { at: 40, offsetMm: 0, heightMm: 0, rearN: 0, rightN: 0, downN: 0 };
  const withPull = (s: Setup, change: Partial<typeof pull>): Setup => ({
    ...s,
    load: { ...s.load, pulls: [{ ...pull, ...change }] },
  });
  const whole = outcome(baseTree, withPull(BASE, {}));
  return Object.fromEntries([
    ['load.pulls', (s: Setup) => withPull(s, {})],
    ...Object.entries(without).map(([field, value]) => [
      `load.pulls.${field}`,
      (s: Setup) => {
        const changed = withPull(s, { [field]: value });
        expect(outcome(baseTree, changed)).not.toBe(whole);
        return changed;
      },
    ]),
  ]);
}

/** With a pad of foam, each field of warmth, time and materials changed against it. */
function giveChanges(): Record<string, (s: Setup) => Setup> {
  const foam = 'closed-cell foam';
  const withFoam = (s: Setup, change: Partial<Setup>): Setup => ({
    ...s,
    layers: [s.layers[0], { name: 'pad', thicknessMm: 20, material: foam }],
    warmth: { ...s.warmth, minutes: 20, ambientC: 15 },
    flex: { ...s.flex, hours: 10 },
    ...change,
  });
  const whole = outcome(baseTree, withFoam(BASE, {}));
  const { warmth } = withFoam(BASE, {});
  const fields: Record<string, Partial<Setup>> = {
    'warmth.ambientC': { warmth: { ...warmth, ambientC: 5 } },
    'warmth.minutes': { warmth: { ...warmth, minutes: 60 } },
    'warmth.backC': { warmth: { ...warmth, backC: 38 } },
    'warmth.layerShare': { warmth: { ...warmth, layerShare: 0.5 } },
    'warmth.layerMinutes': { warmth: { ...warmth, layerMinutes: 30 } },
    'flex.hours': { flex: { ...BASE.flex, hours: 100 } },
    materials: { materials: { [foam]: { temperature: [[0, 1.5]] } } },
    'materials.at25KPa': { materials: { [foam]: { at25KPa: 60 } } },
    'materials.curve': { materials: { [foam]: { curve: [[50, 200]] } } },
    'materials.set': { materials: { [foam]: { set: [[1, 0.3]] } } },
  };
  return Object.fromEntries([
    ['layers.material', (s: Setup) => withFoam(s, {})],
    ...Object.entries(fields).map(([field, change]) => [
      field,
      (s: Setup) => {
        const changed = withFoam(s, change);
        expect(outcome(baseTree, changed)).not.toBe(whole);
        return changed;
      },
    ]),
  ]);
}

/** A shim, and each of its fields changed against it. */
function shimChanges(): Record<string, (s: Setup) => Setup> {
  const piece: Setup['shims'][number] = {
    ...{ name: 'piece', fixedTo: 'bar', side: 'right', thicknessMm: 5, rampMm: 20 },
    ...{ fromMm: 150, toMm: 350, innerMm: 70, outerMm: 170 },
  };
  const withShim = (s: Setup, change: Partial<typeof piece>): Setup => ({ ...s, shims: [{ ...piece, ...change }] });
  const whole = outcome(baseTree, withShim(BASE, {}));
  const other: Partial<typeof piece> = { fixedTo: 'horse', side: 'both', thicknessMm: 4, rampMm: 15, fromMm: 170 };
  return Object.fromEntries([
    ['shims', (s: Setup) => withShim(s, {})],
    ...Object.entries({ ...other, toMm: 320, innerMm: 85, outerMm: 150 }).map(([field, value]) => [
      `shims.${field}`,
      (s: Setup) => {
        const changed = withShim(s, { [field]: value });
        expect(outcome(baseTree, changed)).not.toBe(whole);
        return changed;
      },
    ]),
  ]);
}

const FLEXIBLE: Setup = {
  ...BASE,
  flex: { ...BASE.flex, bars: 'flexible' },
  warmth: { ...BASE.warmth, minutes: 20, ambientC: 15 },
};

/** Fields of a setup that only flexible bars read, each changed against them. */
const OF_FLEXIBLE_BARS: Record<string, Partial<Setup>> = {
  'flex.bars': { flex: BASE.flex },
  'flex.groundSeat': { flex: { ...FLEXIBLE.flex, groundSeat: 'moulded' } },
  'flex.groundSeatNPerMm2': { flex: { ...FLEXIBLE.flex, groundSeatNPerMm2: 0.5 } },
  'warmth.barShare': { warmth: { ...FLEXIBLE.warmth, barShare: 0.8 } },
  'warmth.barMinutes': { warmth: { ...FLEXIBLE.warmth, barMinutes: 5 } },
};

describe('every field that flexible bars read changes some number of theirs', () => {
  const before = outcome(baseTree, FLEXIBLE);
  for (const [field, change] of Object.entries(OF_FLEXIBLE_BARS)) {
    it(field, () => {
      expect(outcome(baseTree, { ...FLEXIBLE, ...change })).not.toBe(before);
    });
  }
});

describe('every field of a setup changes some number', () => {
  const changes: Record<string, (s: Setup) => Setup> = {
    setPositionMm: (s) => ({ ...s, setPositionMm: -20 }),
    shiftMm: (s) => ({ ...s, shiftMm: 3 }),
    yawDeg: (s) => ({ ...s, yawDeg: 1 }),
    'load.riderKg': (s) => ({ ...s, load: { ...s.load, riderKg: 81 } }),
    'load.saddleKg': (s) => ({ ...s, load: { ...s.load, saddleKg: 16 } }),
    'load.factor': (s) => ({ ...s, load: { ...s.load, factor: 1.2 } }),
    'load.at': (s) => ({ ...s, load: { ...s.load, at: 48 } }),
    'load.at seat': (s) => ({ ...s, load: { ...s.load, at: 'seat' } }),
    'load.offsetMm': (s) => ({ ...s, load: { ...s.load, offsetMm: 5 } }),
    'load.heightMm': (s) => ({ ...s, load: { ...s.load, heightMm: 600 } }),
    'load.riseDeg': (s) => ({ ...s, load: { ...s.load, riseDeg: 5 } }),
    ...pullChanges(),
    'layers.thicknessMm': (s) => ({ ...s, layers: s.layers.map((l, i) => (i === 1 ? { ...l, thicknessMm: 25 } : l)) }),
    'layers.stiffnessKPaPerMm': (s) => ({
      ...s,
      layers: s.layers.map((l, i) => (i === 0 ? { ...l, stiffnessKPaPerMm: 2 } : l)),
    }),
    ...giveChanges(),
    ...shimChanges(),
    samples: (s) => ({ ...s, samples: 500 }),
    averagingCellCm2: (s) => ({ ...s, averagingCellCm2: 12 }),
    path: (s) => ({ ...s, path: 'exact' }),
    // Each rule has its own test beside the findings; here only that they are read at all.
    rules: (s) => ({ ...s, rules: { ...s.rules, slopeDeg: 0.1, lengthwiseMm: 0.1 } }),
    'legForward left': (s) => ({ ...s, legForward: 'left' }),
    'legForward both': (s) => ({ ...s, legForward: 'both' }),
  };
  const limits: Record<string, Partial<Setup['limits']>> = {
    ruleOfThumbPsi: { ruleOfThumbPsi: 1.5 },
    meanKPa: { meanKPa: 9 },
    peakKPa: { peakKPa: 22 },
    p95KPa: { p95KPa: 20 },
  };
  const before = outcome(baseTree, BASE);

  it('the same setup gives the same text', () => {
    expect(outcome(treeOf(demoShape('post')), { ...BASE })).toBe(before);
  });

  for (const [field, change] of Object.entries(changes)) {
    it(field, () => {
      expect(outcome(baseTree, change(BASE))).not.toBe(before);
    });
  }

  const capacityBefore = outcome(baseTree, BASE, true);
  for (const [field, change] of Object.entries(limits)) {
    it(`limits.${field}`, () => {
      expect(outcome(baseTree, { ...BASE, limits: { ...BASE.limits, ...change } }, true)).not.toBe(capacityBefore);
    });
  }

  it('no field of the setup is missing from this list', () => {
    // Name and schema are labels: they must change nothing, and are compared below.
    const seen = new Set([...Object.keys(changes), 'limits'].map((f) => f.split(/[. ]/)[0]));
    for (const key of Object.keys(BASE)) if (key !== 'name' && key !== 'schema') expect(seen).toContain(key);
    const loads = new Set(Object.keys(changes).map((f) => f.match(/^load\.(\w+)/)?.[1]));
    for (const key of Object.keys(BASE.load)) expect(loads).toContain(key);
    for (const part of ['flex', 'warmth'] as const) {
      for (const key of Object.keys(BASE[part])) {
        expect([...Object.keys(changes), ...Object.keys(OF_FLEXIBLE_BARS)]).toContain(`${part}.${key}`);
      }
    }
    for (const key of Object.keys(BASE.limits)) expect(Object.keys(limits)).toContain(key);
    expect(outcome(baseTree, { ...BASE, name: 'another name' })).toBe(before);
  });
});

/** Fields of a bar that bear on nothing while it is rigid. */
const OF_BENDING_BARS: ReadonlySet<string> = new Set([
  'tipThicknessMm',
  'tipEdgeThicknessMm',
  'tipLengthFrontMm',
  'tipLengthRearMm',
  'lowerShare',
]);

describe('every field of a bar changes some number', () => {
  const before = outcome(baseTree, BASE);
  const bent = outcome(baseTree, FLEXIBLE);
  const factor = (value: number): number => (value === 0 ? 1 : value * 1.07);
  const fields = Object.keys(post).filter((key) => key !== 'stations') as (keyof Omit<BarShape, 'stations'>)[];
  const stationFields = Object.keys(post.stations[0]).filter((key) => key !== 'name') as (keyof BarStation)[];

  it('the list holds the numbers of a bar: at least 15 of the whole and 7 of a station', () => {
    expect(fields.length).toBeGreaterThanOrEqual(15);
    expect(stationFields.length).toBeGreaterThanOrEqual(7);
  });

  for (const field of fields) {
    it(field, () => {
      const bends = OF_BENDING_BARS.has(field);
      // A share of a layer moves by less than one.
      const value = field === 'lowerShare' ? 0.3 : factor(post[field] as number);
      const changed = outcome(treeOf({ ...post, [field]: value }), bends ? FLEXIBLE : BASE);
      expect(changed).not.toBe(bends ? bent : before);
    });
  }

  for (const field of stationFields) {
    it(`stations[1].${field}`, () => {
      const stations = post.stations.map((s, i) => (i === 1 ? { ...s, [field]: factor(s[field] as number) } : s));
      expect(outcome(treeOf({ ...post, stations }), BASE)).not.toBe(before);
    });
  }
});

describe('every part that joins the bars and bears on fit changes some number', () => {
  const before = outcome(baseTree, BASE);
  // The fork's own length counts only where the topline rises behind the tips: not on this back.
  for (const field of ['gulletHeightMm', 'groundSeatFromMm', 'groundSeatToMm'] as const) {
    it(field, () => {
      // Larger moves than 7 %: clearances are least values, which only a change at the narrowest place moves.
      const moved = [0.3, 1.6].map((times) => ({
        ...baseTree,
        parts: { ...baseTree.parts, [field]: baseTree.parts[field] * times },
      }));
      expect(moved.map((tree) => outcome(tree, BASE)).some((text) => text !== before)).toBe(true);
    });
  }

  it('seatLowMm, when the load sits at the seat', () => {
    const seat: Setup = { ...BASE, load: { ...BASE.load, at: 'seat' } };
    const moved = { ...baseTree, parts: { ...baseTree.parts, seatLowMm: baseTree.parts.seatLowMm + 5 } };
    expect(outcome(moved, seat)).not.toBe(outcome(baseTree, seat));
  });
});
