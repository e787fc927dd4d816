import { describe, expect, it } from 'vitest';
import { bareBack, demoBack } from '../back/demo-backs.fixture.ts';
import { type BackSurface, buildBack, createSurfaceJet } from '../back/index.ts';
import { demoShape, plainShape } from '../bar/demo-shapes.fixture.ts';
import { demoTree, treeOf } from '../bar/demo-tree.fixture.ts';
import { createHeightJet, createUnderside, type HeightJet, shimUnderside, type Tree } from '../bar/index.ts';
import { InputError, seededRandom } from '../numeric/index.ts';
import { applyShims } from './apply-shims.ts';
import { contactFigures } from './contact-figures.ts';
import { readSetup } from './read-setup.ts';
import { type SeatedTree, seatTree } from './seat-tree.ts';
import { SETUP_DEFAULTS, type Setup } from './setup-schema.ts';
import { shimLift } from './shim-lift.ts';
import { type Shim, shimWords } from './shim-schema.ts';

const BASE: Setup = { ...SETUP_DEFAULTS, samples: 2000 };
const back = buildBack(demoBack('tuesday'));
/** Left and right alike. */
const even = buildBack(bareBack(demoBack('tuesday')));
const post = demoTree('post');
const shim = (change: Partial<Shim>): Shim => ({
  ...{ name: 'piece', fixedTo: 'bar', side: 'both', thicknessMm: 4, rampMm: 20 },
  ...{ fromMm: 240, toMm: 340, innerMm: 80, outerMm: 160 },
  ...change,
});
const EVERYWHERE = { fromMm: -300, toMm: 900, innerMm: 0, outerMm: 320, rampMm: 20 };
const seated = (shims: readonly Shim[], setup: Setup = BASE, tree: Tree = post, on: BackSurface = back): SeatedTree => {
  const whole = { ...setup, shims: [...shims] };
  const put = applyShims(tree, on, whole);
  return seatTree(put.tree, put.back, whole);
};

/** Middle of the cells where a shim adds more than half of what it adds at most, by force: on the bar and on the horse. */
function added(shims: readonly Shim[], setup: Setup): { bMm: number; xMm: number } {
  const [plain, shimmed] = [seated([], setup), seated(shims, setup)];
  const rise = plain.seat.pressureMPa.map((before, i) => shimmed.seat.pressureMPa[i]! - before);
  const least = 0.5 * rise.reduce((most, value) => Math.max(most, value), 0);
  let [total, b, x] = [0, 0, 0];
  for (let i = 0; i < plain.samples.count; i++) {
    if (rise[i]! < least) continue;
    const more = rise[i]! * plain.samples.areaMm2[i]!;
    total += more;
    b += more * plain.samples.bMm[i]!;
    x += more * shimmed.seat.placedMm[3 * i]!;
  }
  return { bMm: b / total, xMm: x / total };
}

describe('the jets of shims', () => {
  it('under a bar: all derivatives agree with central differences to 1e-6, bare leaves it out (seed 23, 200 places)', () => {
    const random = seededRandom(23);
    const plain = createUnderside(demoShape('post'));
    const bar = shimUnderside(plain, [shim({}), shim({ fromMm: 300, toMm: 400, thicknessMm: 7 })]);
    const jet = (b: number, y: number, bare = false): HeightJet =>
      bar.heightJet(bar.row(b), y, createHeightJet(), bare);
    const own = (b: number, y: number): HeightJet => plain.heightJet(plain.row(b), y, createHeightJet());
    const step = 1e-3;
    // Less the bar's own jet: its relief has kinks of its own, tested beside it.
    const less = (b: number, y: number, key: keyof HeightJet): number => jet(b, y)[key] - own(b, y)[key];
    for (let i = 0; i < 200; i++) {
      const [b, y] = [242 + 156 * random(), 82 + 76 * random()];
      const kinks = [240, 260, 320, 340, 300, 380, 400, 280, 112, 448].map((k) => Math.abs(k - b));
      if (Math.min(...kinks, Math.abs(y - 100), Math.abs(y - 140)) < 0.01) continue;
      const along = (key: keyof HeightJet): number => (less(b + step, y, key) - less(b - step, y, key)) / (2 * step);
      const across = (key: keyof HeightJet): number => (less(b, y + step, key) - less(b, y - step, key)) / (2 * step);
      const pairs = { zb: along('z'), zy: across('z'), zbb: along('zb'), zby: along('zy'), zyy: across('zy') };
      for (const [key, value] of Object.entries(pairs)) {
        expect(Math.abs(less(b, y, key as keyof HeightJet) - value), `${key} at ${b}, ${y}`).toBeLessThan(1e-6);
      }
      expect(jet(b, y, true)).toEqual(plain.heightJet(plain.row(b), y, createHeightJet(), true));
    }
  });

  it('on a back: all derivatives agree with central differences to 1e-5 on both sides (seed 29, 200 places)', () => {
    const random = seededRandom(29);
    const lift = shimLift(back, [
      { shape: shim({}), side: 'left' },
      { shape: shim({ thicknessMm: 6 }), side: 'right' },
    ])!;
    const jet = (x: number, y: number) => lift.jet(x, y, createSurfaceJet());
    const step = 1e-3;
    for (let i = 0; i < 200; i++) {
      const [x, out] = [242 + 96 * random(), 82 + 76 * random()];
      if (Math.min(...[260, 320].map((k) => Math.abs(k - x)), ...[100, 140].map((k) => Math.abs(k - out))) < 0.01)
        continue;
      const y = random() < 0.5 ? -out : out;
      const [here, aft, fore, more, less] = [
        jet(x, y),
        jet(x + step, y),
        jet(x - step, y),
        jet(x, y + step),
        jet(x, y - step),
      ];
      const differences = {
        zx: (aft.z - fore.z) / (2 * step),
        zy: (more.z - less.z) / (2 * step),
        zxx: (aft.zx - fore.zx) / (2 * step),
        zxy: (aft.zy - fore.zy) / (2 * step),
        zyy: (more.zy - less.zy) / (2 * step),
      };
      for (const [key, value] of Object.entries(differences)) {
        expect(Math.abs(here[key as keyof typeof differences] - value), `${key} at ${x}, ${y}`).toBeLessThan(1e-5);
      }
    }
  });

  it('on a roof of constant slope its thickness square to the roof is the given one', () => {
    const roof = { heightMm: (x: number, y: number) => 0.1 * x - 0.7 * Math.abs(y) };
    const lift = shimLift(roof, [{ shape: shim({ thicknessMm: 5 }), side: 'right' }])!;
    expect(lift.at(290, 120)).toBeCloseTo(5 * Math.sqrt(1 + 0.01 + 0.49), 9);
    expect([lift.at(290, -120), lift.at(290, 170), lift.at(239, 120)]).toEqual([0, 0, 0]);
  });
});

describe('what a shim does', () => {
  it('fixed to the bar it travels with the set position, fixed to the horse it stays', () => {
    const [fore, aft] = [-30, 10].map((setPositionMm) => ({ ...BASE, setPositionMm })) as [Setup, Setup];
    const onBar = [added([shim({})], fore), added([shim({})], aft)] as const;
    expect(Math.abs(onBar[0].bMm - 290)).toBeLessThan(10);
    expect(Math.abs(onBar[1].bMm - onBar[0].bMm)).toBeLessThan(10);
    expect(Math.abs(onBar[1].xMm - onBar[0].xMm - 40)).toBeLessThan(10);
    const horse = shim({ fixedTo: 'horse', fromMm: 210, toMm: 310 });
    const onHorse = [added([horse], fore), added([horse], aft)] as const;
    expect(Math.abs(onHorse[0].xMm - 260)).toBeLessThan(10);
    expect(Math.abs(onHorse[1].xMm - onHorse[0].xMm)).toBeLessThan(10);
    expect(Math.abs(onHorse[1].bMm - onHorse[0].bMm + 40)).toBeLessThan(10);
  });

  it('of 6 mm under a whole bar of one slope the tree stands 6 mm / cos(slope) higher and presses alike', () => {
    const slopeRad = Math.PI / 6;
    const tree = treeOf(plainShape({ slopeRad, rockCurvaturePerMm: 1 / 1450, widthMm: 100 }));
    const plain = seated([], BASE, tree, even);
    const riseMm = 6 / Math.cos(slopeRad);
    // The load's height counts from the tree: as far above the horse in both.
    const lower: Setup = { ...BASE, load: { ...BASE.load, heightMm: BASE.load.heightMm - riseMm } };
    const shimmed = seated([shim({ ...EVERYWHERE, thicknessMm: 6 })], lower, tree, even);
    // The tree turns about its own low point, now further from the horse: rise times pitch is left as a move.
    expect(Math.abs(shimmed.seat.pose.zMm - plain.seat.pose.zMm - riseMm)).toBeLessThan(0.01);
    expect(shimmed.seat.pose.pitchRad).toBeCloseTo(plain.seat.pose.pitchRad, 4);
    const [a, b] = [plain, shimmed].map(contactFigures);
    expect(Math.abs(b!.areaCm2 / a!.areaCm2 - 1)).toBeLessThan(5e-3);
    expect(Math.abs(b!.peakPressureKPa / a!.peakPressureKPa - 1)).toBeLessThan(5e-3);
  });

  it('of 6 mm all over the horse the demo tree stands higher by about 6 mm / cos(30 degrees) and bears on as much', () => {
    const plain = seated([]);
    const shimmed = seated([shim({ ...EVERYWHERE, fixedTo: 'horse', thicknessMm: 6 })]);
    const rise = shimmed.seat.pose.zMm - plain.seat.pose.zMm;
    // Slopes where it bears run from 20 to 45 degrees.
    expect(rise).toBeGreaterThan(6 / Math.cos((20 * Math.PI) / 180));
    expect(rise).toBeLessThan(6 / Math.cos((45 * Math.PI) / 180));
    expect(contactFigures(shimmed).areaCm2 / contactFigures(plain).areaCm2).toBeCloseTo(1, 1);
  });

  it('at one place the two kinds do nearly the same: peak, area and height within 2 percent of each other, not of none', () => {
    const onBar = seated([shim({})]);
    const onHorse = seated([shim({ fixedTo: 'horse', fromMm: 210, toMm: 310 })]);
    const [a, b, none] = [onBar, onHorse, seated([])].map(contactFigures);
    expect(Math.abs(a!.peakPressureKPa / b!.peakPressureKPa - 1)).toBeLessThan(0.02);
    expect(Math.abs(a!.areaCm2 / b!.areaCm2 - 1)).toBeLessThan(0.02);
    expect(a!.peakPressureKPa / none!.peakPressureKPa).toBeGreaterThan(1.1);
  });

  for (const fixedTo of ['bar', 'horse'] as const) {
    it(`${fixedTo}: left and right mirror, and the shimmed side carries more`, () => {
      const mirrored = (side: 'left' | 'right') => seated([shim({ fixedTo, side })], BASE, post, even);
      const [left, right] = [mirrored('left'), mirrored('right')];
      expect(left.seat.pose.zMm).toBeCloseTo(right.seat.pose.zMm, 2);
      expect(left.seat.pose.rollRad).toBeCloseTo(-right.seat.pose.rollRad, 5);
      expect(Math.abs(left.seat.pose.rollRad)).toBeGreaterThan(1e-4);
      const [l, r] = [contactFigures(left), contactFigures(right)];
      expect(l.areaLeftCm2 / r.areaRightCm2).toBeCloseTo(1, 2);
      expect(l.shareLeft / r.shareRight).toBeCloseTo(1, 3);
      expect(l.shareLeft).not.toBeCloseTo(l.shareRight, 3);
    });

    it(`${fixedTo}: the cells under it press more, the rest less, and the load is carried`, () => {
      const piece = shim({ fixedTo, fromMm: fixedTo === 'bar' ? 240 : 210, toMm: fixedTo === 'bar' ? 340 : 310 });
      const [plain, shimmed] = [seated([]), seated([piece])];
      const force = (of: SeatedTree, under: boolean): number =>
        of.seat.pressureMPa.reduce((sum, p, i) => {
          const b = plain.samples.bMm[i]!;
          const y = Math.abs(plain.samples.pointsMm[3 * i + 1]!);
          const isUnder = b > 250 && b < 330 && y > 90 && y < 150;
          return isUnder === under ? sum + p * plain.samples.areaMm2[i]! : sum;
        }, 0);
      expect(force(shimmed, true)).toBeGreaterThan(1.2 * force(plain, true));
      expect(force(shimmed, false)).toBeLessThan(force(plain, false));
      expect(shimmed.status).toBe('settled');
      expect(shimmed.seat.relativeResidual).toBeLessThan(1e-5);
    });
  }
});

describe('applying shims', () => {
  const setup: Setup = { ...BASE, shims: [shim({}), shim({ fixedTo: 'horse', fromMm: 0, toMm: 100 })] };

  it('gives the same objects for the same shims, and shims nothing twice', () => {
    const once = applyShims(post, back, setup);
    const again = applyShims(post, back, { ...setup, shims: structuredClone(setup.shims) });
    expect([again.tree.left, again.back]).toEqual([once.tree.left, once.back]);
    expect(again.tree.left).toBe(once.tree.left);
    expect(again.back).toBe(once.back);
    const twice = applyShims(once.tree, once.back, setup);
    expect(twice.tree).toBe(once.tree);
    expect(twice.back).toBe(once.back);
  });

  it('are told in words with what they are fixed to', () => {
    expect(shimWords(shim({ side: 'left' }))).toBe(
      'piece 4 mm, fixed to the bar, left, 240 to 340 mm from the front tip edge, 80 to 160 mm out',
    );
    expect(shimWords(shim({ fixedTo: 'horse' }))).toContain(
      'fixed to the horse, both sides, 240 to 340 mm behind the blade',
    );
  });

  it('without shims gives what it was given', () => {
    expect(applyShims(post, back, BASE)).toEqual({ tree: post, back });
    expect(applyShims(post, back, BASE).tree).toBe(post);
  });

  it.each<[Record<string, unknown>, RegExp]>([
    [{ toMm: 200 }, /from before to/],
    [{ outerMm: 100 }, /inner before outer/],
    [{ rampMm: 7 }, /twice the thickness/],
    [{ fixedTo: 'rider' }, /bar/],
    [{ thicknessMm: 0 }, /0/],
  ])('%j is refused in the setup', (change, words) => {
    const refused = (): Setup => readSetup({ schema: 'barwright/setup/1', shims: [{ ...shim({}), ...change }] });
    expect(refused).toThrow(InputError);
    expect(refused).toThrow(words);
  });
});
