import { describe, expect, it } from 'vitest';
import { InputError, seededRandom } from '../numeric/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { BackSurface } from './back-surface.ts';
import { buildBack } from './build-back.ts';
import type { DemoBack } from './demo-backs.fixture.ts';
import { scanDocumentFromProposal } from './propose-document.ts';
import { angleDeg } from './propose-part.ts';
import {
  AXIS_ORDERS,
  type AxisOrder,
  filePlace,
  movedMesh,
  NAMES,
  randomTurns,
  UNITS,
  type Unit,
} from './propose-scan.fixture.ts';
import { proposeScan } from './propose-scan.ts';
import { demoCloud, leggedCloud } from './propose-scan-cloud.fixture.ts';
import { turnFromAxes } from './scan-axes.ts';
import { type ScanBackDocument, scanBackSchema } from './scan-schema.ts';

const HORSES: readonly DemoBack[] = ['dumpling', 'heron', 'tuesday'];
const MEASURED = { by: 'Quillback Lane bench', on: '2026-04-14', uncertaintyMm: 3, uncertaintyDeg: 2 };
const PLAIN: AxisOrder = { tail: '+x', right: '+y', up: '+z' };

function documentOf(
  back: BackSurface,
  order: AxisOrder,
  unit: Unit,
  turn?: readonly number[],
  changes: Partial<ScanBackDocument> = {},
): ScanBackDocument {
  const place = filePlace(order, unit, turn);
  return scanBackSchema.parse({
    ...{ schema: 'barwright/back/1', kind: 'scan', name: 'A cloud', mesh: 'cloud.xyz', unit, axes: order },
    ...(turn === undefined ? {} : { turn }),
    landmarks: Object.fromEntries(NAMES.map((name) => [name, place(back.landmarks[name])])),
    measured: MEASURED,
    ...changes,
  });
}

/** Height errors over blade edge to last rib and 200 mm to each side, sorted, mm; and how many places had no data. */
function errors(got: BackSurface, want: BackSurface): { sorted: number[]; missing: number } {
  const found: number[] = [];
  for (let x = 0; x <= want.landmarks.lastRib[0]; x += 13) {
    for (let y = -200; y <= 200; y += 11) found.push(Math.abs(got.heightMm(x, y) - want.heightMm(x, y)));
  }
  const sorted = found.filter((value) => !Number.isNaN(value)).sort((a, b) => a - b);
  return { sorted, missing: found.length - sorted.length };
}

const at = (sorted: readonly number[], share: number): number => sorted[Math.floor(share * (sorted.length - 1))];

describe('a cloud that a document names becomes a back', () => {
  const poses = randomTurns(23, 3);

  it.each(HORSES)(
    '%s, 12,000 points scattered 1 mm, level in its file and askew: 1.6 mm for 95 of 100, 5 mm for all (seed 5)',
    (name) => {
      const { back, cloud } = demoCloud(name, 12_000, 1, 5);
      const worst = { p95: 0, all: 0 };
      for (let i = 0; i < 2; i++) {
        const order = AXIS_ORDERS[(5 * i + HORSES.indexOf(name)) % 24];
        const turn = i === 0 ? undefined : poses[HORSES.indexOf(name)];
        const unit = UNITS[(i + HORSES.indexOf(name)) % 4];
        const file = movedMesh(cloud, filePlace(order, unit, turn));
        const made = buildBack(documentOf(back, order, unit, turn), { mesh: file });
        const { sorted, missing } = errors(made, back);
        expect(missing).toBe(0);
        worst.p95 = Math.max(worst.p95, at(sorted, 0.95));
        worst.all = Math.max(worst.all, at(sorted, 1));
        expect(made.warnings[0]).toMatch(/^A surface was made of 12000 points/);
        expect(made.warnings[1]).toMatch(
          /^\d+ cells without points \([\d.]+ %\) were bridged .* nobody measured there/,
        );
        for (const mark of NAMES)
          expect(Math.abs(made.landmarks[mark][0] - back.landmarks[mark][0])).toBeLessThan(0.01);
      }
      expect(worst.p95).toBeLessThan(1.6);
      expect(worst.all).toBeLessThan(5);
      // It does see the scatter: an exact comparison would not.
      expect(worst.p95).toBeGreaterThan(0.5);
    },
  );

  it.each(HORSES)(
    '%s with belly and legs under it: they are left out, said, and change the back by little (seed 5)',
    (name) => {
      const { back, cloud } = leggedCloud(name, 12_000, 1, 5);
      const order = AXIS_ORDERS[7];
      const made = buildBack(documentOf(back, order, 'm'), { mesh: movedMesh(cloud, filePlace(order, 'm')) });
      const { sorted, missing } = errors(made, back);
      expect(missing).toBe(0);
      expect(at(sorted, 0.95)).toBeLessThan(1.6);
      expect(at(sorted, 1)).toBeLessThan(8);
      const below = /^(\d+) points lay below it/.exec(made.warnings[1]);
      // 6,000 were put under it; a few below the rim of the back's cells show beside it.
      expect(Math.abs(Number(below?.[1]) - 6_000)).toBeLessThan(400);
    },
  );

  it('a stated spacing is used, in the unit of the file', () => {
    const { back, cloud } = demoCloud('heron', 20_000, 0, 5);
    const file = movedMesh(cloud, filePlace(PLAIN, 'cm'));
    const made = buildBack(documentOf(back, PLAIN, 'cm', undefined, { pointSpacing: 2 }), { mesh: file });
    expect(made.warnings[0]).toMatch(/in cells of 20 mm/);
    expect(
      refusal(() => buildBack(documentOf(back, PLAIN, 'cm', undefined, { pointSpacing: 5 }), { mesh: file })),
    ).toBe('out-of-range pointSpacing');
  });

  it('with fewer than 1000 points, or cells wider than 40 mm, it is refused', () => {
    const { back, cloud } = demoCloud('heron', 1000, 0, 5);
    const few: TriangleMesh = { positions: cloud.positions.slice(3), triangles: cloud.triangles };
    const doc = documentOf(back, PLAIN, 'mm');
    const place = filePlace(PLAIN, 'mm');
    expect(refusal(() => buildBack(doc, { mesh: movedMesh(few, place) }))).toBe('out-of-range mesh');
    expect(refusal(() => proposeScan({ mesh: few }))).toBe('out-of-range mesh');
    const said = buildBack(doc, { mesh: movedMesh(cloud, place) }).warnings[0];
    expect(said).toMatch(/made of 1000 points/);
  });
});

describe('proposals on clouds', () => {
  it('unit, up, tail and right in all 24 axis orders, the horses in turn (seed 9)', () => {
    const clouds = HORSES.map((name) => demoCloud(name, 6000, 1, 9).cloud);
    const wrong = AXIS_ORDERS.flatMap((order, i) => {
      const cloud = clouds[i % 3];
      const unit = UNITS[i % 4];
      const p = proposeScan({ mesh: movedMesh(cloud, filePlace(order, unit)) });
      const got = [p.unit.value, p.up.value, p.tail.value, p.right.value, p.turn.value].join(' ');
      return got === [unit, order.up, order.tail, order.right, ''].join(' ') ? [] : [got];
    });
    expect(wrong).toEqual([]);
  });

  it('in 3 random poses (seed 31): a turn, upright to 6 degrees, sides to 2, and a back built by it half of which lies within 15 mm', () => {
    const { back, cloud } = demoCloud('tuesday', 8000, 1, 9);
    let turned = 0;
    for (const turn of randomTurns(31, 3)) {
      const place = filePlace(PLAIN, 'mm', turn);
      const mesh = movedMesh(cloud, place);
      const p = proposeScan({ mesh });
      const m = turnFromAxes(
        { tail: p.tail.value, right: p.right.value, up: p.up.value },
        'mm',
        p.turn.value ?? undefined,
      );
      const o = place([0, 0, 0]);
      const truth = [place([1, 0, 0]), place([0, 1, 0]), place([0, 0, 1])].map((e) =>
        [0, 1, 2].map((k) => e[k] - o[k]),
      );
      expect(angleDeg(m.slice(6, 9), truth[2])).toBeLessThan(6);
      expect(angleDeg(m.slice(3, 6), truth[1])).toBeLessThan(2);
      if (p.turn.value === null) continue;
      turned++;
      expect(p.up.confidence).toBe('unsure');
      const doc = scanDocumentFromProposal(p, {
        ...{ name: 'A cloud', mesh: 'cloud.xyz', measured: MEASURED },
        landmarks: Object.fromEntries(NAMES.map((mark) => [mark, place(back.landmarks[mark])])),
      });
      expect(at(errors(buildBack(doc, { mesh }), back).sorted, 0.5)).toBeLessThan(15);
    }
    expect(turned).toBeGreaterThanOrEqual(2);
  });

  it('with belly and legs: up found in 22 of 24 axis orders, the horses in turn, and never called sure (seed 9)', () => {
    const clouds = HORSES.map((name) => leggedCloud(name, 6000, 1, 9).cloud);
    let right = 0;
    for (const [i, order] of AXIS_ORDERS.entries()) {
      const cloud = clouds[i % 3];
      const { up } = proposeScan({ mesh: movedMesh(cloud, filePlace(order, 'cm')) });
      if (up.value === order.up) right++;
      expect(up.confidence).toBe('unsure');
      expect(up.reason).toMatch(/\d+ % of them below/);
    }
    // The other two are seen as lying askew.
    expect(right).toBe(22);
  });

  it('a given up is not searched for, and the order of the points does not matter (seed 3)', () => {
    const { cloud } = demoCloud('heron', 4000, 1, 9);
    const random = seededRandom(3);
    const places = Array.from({ length: 4000 }, (_, i) => ({ i, key: random() })).sort((a, b) => a.key - b.key);
    const shuffled = new Float64Array(12_000);
    for (const [k, { i }] of places.entries()) shuffled.set(cloud.positions.subarray(3 * i, 3 * i + 3), 3 * k);
    const plain = proposeScan({ mesh: cloud }, { up: '+z', unit: 'mm' });
    const mixed = proposeScan({ mesh: { ...cloud, positions: shuffled } }, { up: '+z', unit: 'mm' });
    expect(plain.up).toMatchObject({ value: '+z', given: true, reason: 'Given.' });
    expect([mixed.tail.value, mixed.right.value]).toEqual([plain.tail.value, plain.right.value]);
    const [a, b] = [plain.midplane.value.residualMm, mixed.midplane.value.residualMm];
    expect(Math.abs(a - b)).toBeLessThan(1e-6);
  });
});

function refusal(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return `${error.code} ${error.details.field}`;
    throw error;
  }
  return 'no refusal';
}
