import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { transformPoint } from '../numeric/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { buildScanBack } from './build-scan-back.ts';
import { type DemoBack, demoBack } from './demo-backs.fixture.ts';
import { readPlainPly } from './plain-ply.fixture.ts';
import { scanDocumentFromProposal } from './propose-document.ts';
import { angleDeg, axisVector } from './propose-part.ts';
import {
  AXIS_ORDERS,
  type AxisOrder,
  demoMesh,
  filePlace,
  movedMesh,
  NAMES,
  randomTurns,
  smallTurn,
  UNITS,
} from './propose-scan.fixture.ts';
import { proposeScan, type ScanProposal } from './propose-scan.ts';
import { proposeUnit } from './propose-unit.ts';
import { turnFromAxes, turnPoint } from './scan-axes.ts';
import { scanBackSchema } from './scan-schema.ts';

const HORSES: readonly DemoBack[] = ['dumpling', 'heron', 'tuesday'];
const MEASURED = { by: 'Quillback Lane bench', on: '2026-04-14', uncertaintyMm: 3, uncertaintyDeg: 2 };
const PLAIN: AxisOrder = { tail: '+x', right: '+y', up: '+z' };
const scanOf = (mesh: TriangleMesh) => ({ mesh });

describe('frame recovery given landmarks', () => {
  const { back, mesh } = demoMesh('tuesday', 20);
  const turns = randomTurns(97, 8);
  /** Horse frame of a file with marked landmarks; what the same mesh gives lying square and in mm is the measure. */
  const frameOf = (order: AxisOrder, unit: (typeof UNITS)[number], turn?: number[]) => {
    const place = filePlace(order, unit, turn);
    const doc = scanBackSchema.parse({
      ...{ schema: 'barwright/back/1', kind: 'scan', name: 'Tuesday', mesh: 'tuesday.ply', unit, axes: order },
      ...(turn === undefined ? {} : { turn }),
      landmarks: Object.fromEntries(NAMES.map((name) => [name, place(back.landmarks[name])])),
      measured: MEASURED,
    });
    return { found: buildScanBack(doc, movedMesh(mesh, place)).back, place };
  };
  const plain = frameOf(PLAIN, 'mm').found;

  it.each(UNITS)('in %s: 24 axis orders and 24 random poses come back within 0.01 mm (seed 97)', (unit) => {
    let worst = 0;
    let worstHeight = 0;
    const cases = [
      ...AXIS_ORDERS.map((order) => ({ order, turn: undefined })),
      ...AXIS_ORDERS.map((order, i) => ({ order, turn: turns[i % turns.length] })),
    ];
    for (const { order, turn } of cases) {
      const { found, place } = frameOf(order, unit, turn);
      for (const p of [[0, 0, 0], [300, -150, 40], ...NAMES.map((name) => back.landmarks[name])]) {
        const here = transformPoint(found.fileToHorse, ...place(p));
        const reference = transformPoint(plain.fileToHorse, ...filePlace(PLAIN, 'mm')(p));
        worst = Math.max(worst, ...here.map((value, k) => Math.abs(value - reference[k])));
        // x and y come from the landmarks alone; z from the low point of facets 20 mm long.
        expect(Math.hypot(here[0] - p[0], here[1] - p[1])).toBeLessThan(0.01);
        expect(Math.abs(here[2] - p[2])).toBeLessThan(0.3);
      }
      worstHeight = Math.max(worstHeight, Math.abs(found.heightMm(211, 77) - plain.heightMm(211, 77)));
    }
    expect(worst).toBeLessThan(0.01);
    expect(worstHeight).toBeLessThan(0.01);
  });

  it('refuses a turn that is no rotation, or that mirrors', () => {
    const square = [1, 0, 0, 0, 1, 0, 0, 0, 1];
    expect(turnFromAxes(PLAIN, 'mm', square)).toEqual(square);
    for (const bad of [
      [1, 0, 0, 0, 1, 0, 0, 0, -1],
      [1, 0, 0, 0, 1, 0, 0, 0, 1.001],
      [1, 0, 0, 1, 0, 0, 0, 0, 1],
      [0, 0, 0, 0, 0, 0, 0, 0, 0],
      [1, 0, 0, 0, 1, 0, 0, 0],
    ]) {
      expect(() => turnFromAxes(PLAIN, 'mm', bad)).toThrow(/turn: expected a row-major 3x3 rotation/);
    }
  });
});

describe('proposals on demo horses', () => {
  it.each(HORSES)('%s, 16 mm spacing and 1 mm of noise: right in all four units and all 24 axis orders', (name) => {
    const { mesh } = demoMesh(name, 16, 1);
    // All 96 for one horse; for the others each order once, the units in turn.
    const units = (i: number) => (name === 'tuesday' ? UNITS : [UNITS[(i + Math.floor(i / 4)) % 4]]);
    const cases = AXIS_ORDERS.flatMap((order, i) => units(i).map((unit) => ({ order, unit })));
    let right = 0;
    let silentlyWrong = 0;
    for (const { order, unit } of cases) {
      const p = proposeScan(scanOf(movedMesh(mesh, filePlace(order, unit))));
      const parts = [p.unit, p.up, p.tail, p.right];
      const truth = [unit, order.up, order.tail, order.right];
      const isRight = p.turn.value === null && parts.every((part, i) => part.value === truth[i]);
      if (isRight) right++;
      else if (parts.some((part, i) => part.value !== truth[i] && part.confidence !== 'unsure')) silentlyWrong++;
    }
    // biome-ignore lint/suspicious/noConsole: the rate is the point of this check.
    console.info(`${name}: ${right} of ${cases.length} proposed right, ${silentlyWrong} wrong and not flagged`);
    expect(silentlyWrong).toBe(0);
    expect(right).toBe(cases.length);
    expect(cases.length).toBe(name === 'tuesday' ? 96 : 24);
  });

  it.each([
    [20, 12, 'in'],
    [50, 30, 'cm'],
    [0.7, 0.45, 'm'],
    [500, 350, 'mm'],
    [2.2, 1.6, 'm'],
  ])('sides %d x %d are read as %s', (a, b, unit) => {
    const { value, confidence } = proposeUnit([a, b, b / 2.2]);
    expect(value).toBe(unit);
    expect(confidence).not.toBe('unsure');
  });

  it('sizes that fit two units, or none, are unsure; a stated unit tips the scale and says so', () => {
    expect(proposeUnit([20_000, 15_000, 8000])).toMatchObject({ confidence: 'unsure' });
    expect(proposeUnit([20_000, 15_000, 8000]).reason).toMatch(/No unit/);
    // 87 x 63: a wide back in cm, a whole horse in inches.
    const even = [87, 63, 40];
    expect(proposeUnit(even).confidence).toBe('unsure');
    expect(proposeUnit(even, 'cm')).toMatchObject({ value: 'cm' });
    expect(proposeUnit(even, 'in')).toMatchObject({ value: 'in' });
    expect(proposeUnit(even, 'in').reason).toMatch(/The file states it/);
  });

  it('finds the mirror plane of a symmetric horse to 0.2 mm and 0.1 degrees, and tells asymmetry as residual', () => {
    const { mesh } = demoMesh('tuesday', 14);
    const half = { ...mesh, positions: mesh.positions.map((v, k, all) => (k % 3 === 2 ? symmetric(all, k) : v)) };
    const place = filePlace({ tail: '-y', right: '-z', up: '+x' }, 'cm', smallTurn(0, 0, 0));
    const found = proposeScan(scanOf(movedMesh(half, place))).midplane.value;
    const [o, y] = [place([250, 0, 30]), place([250, 1, 30])];
    const toRight = [0, 1, 2].map((k) => (y[k] - o[k]) * 10);
    expect(angleDeg(found.normalInFile, toRight)).toBeLessThan(0.1);
    const off = [0, 1, 2].reduce((sum, k) => sum + 10 * (found.pointInFile[k] - o[k]) * found.normalInFile[k], 0);
    expect(Math.abs(off)).toBeLessThan(0.2);
    expect(found.residualMm).toBeLessThan(0.3);
    const { mesh: crooked } = demoMesh('dumpling', 14);
    const leaning = proposeScan(scanOf(crooked)).midplane.value;
    expect(leaning.residualMm).toBeGreaterThan(found.residualMm);
  });

  it('lying askew in 12 random poses (seed 11): a turn, never called clear, upright to 5 degrees, sides to 1', () => {
    const worst = { sides: 0, up: 0, tail: 0, correct: 0 };
    const { mesh } = demoMesh('heron', 14, 1);
    for (const turn of randomTurns(11, 12)) {
      const place = filePlace(PLAIN, 'mm', turn);
      const p = proposeScan(scanOf(movedMesh(mesh, place)));
      expect(p.up.confidence).not.toBe('clear');
      const rows = directions(p);
      const o = place([0, 0, 0]);
      const truth = [place([1, 0, 0]), place([0, 1, 0]), place([0, 0, 1])].map((e) =>
        [0, 1, 2].map((k) => e[k] - o[k]),
      );
      const [tail, right, up] = rows.map((row, i) => angleDeg(row, truth[i]));
      worst.sides = Math.max(worst.sides, right);
      worst.up = Math.max(worst.up, up);
      worst.tail = Math.max(worst.tail, tail);
      if (p.turn.value !== null) {
        worst.correct++;
        expect(p.turn.confidence).toBe('unsure');
        expect(p.toConfirm).toContain('turn');
      }
    }
    // biome-ignore lint/suspicious/noConsole: the measured angles are the point of this check.
    console.info('askew', worst);
    expect(worst.correct).toBeGreaterThanOrEqual(10);
    expect(worst.sides).toBeLessThan(1);
    expect(worst.up).toBeLessThan(5);
    expect(worst.tail).toBeLessThan(5);
  });

  it('a horse that stood a little askew (roll 1, pitch 3, yaw 12 degrees) keeps the axes of the file', () => {
    const { mesh } = demoMesh('tuesday', 14, 1);
    const order: AxisOrder = { tail: '-x', right: '-y', up: '+z' };
    const p = proposeScan(scanOf(movedMesh(mesh, filePlace(order, 'in', smallTurn(1, 3, 12)))));
    expect(p.turn.value).toBeNull();
    expect({ tail: p.tail.value, right: p.right.value, up: p.up.value }).toEqual(order);
  });

  it('a level scan at 40 degrees in plan is turned about its own up, given or found', () => {
    const { mesh } = demoMesh('tuesday', 14, 1);
    for (const order of [PLAIN, { tail: '-z', right: '-x', up: '+y' }] as AxisOrder[]) {
      // A turn about the file's own up.
      const spin = order.up === '+z' ? smallTurn(0, 0, 40) : smallTurn(0, 40, 0);
      const place = filePlace(order, 'mm', spin);
      for (const hints of [{}, { up: order.up }]) {
        const p = proposeScan(scanOf(movedMesh(mesh, place)), hints);
        expect(p.up.value).toBe(order.up);
        expect(p.turn.value).toHaveLength(9);
        const o = place([0, 0, 0]);
        const truth = [place([1, 0, 0]), place([0, 1, 0]), place([0, 0, 1])].map((e) =>
          [0, 1, 2].map((k) => e[k] - o[k]),
        );
        for (const [i, row] of directions(p).entries()) expect(angleDeg(row, truth[i])).toBeLessThan(0.5);
      }
    }
  });

  it('what is given is not asked, landmarks tell head from tail, and contradictions are refused', () => {
    const { back, mesh } = demoMesh('dumpling', 14);
    const place = filePlace(PLAIN, 'mm');
    const file = movedMesh(mesh, place);
    const p = proposeScan(scanOf(file), { unit: 'mm', tail: '+x', up: '+z' });
    expect(p.toConfirm.every((name) => name.startsWith('landmarks.'))).toBe(true);
    expect(p.right).toMatchObject({ value: '+y', given: true });
    const swapped = { withersTop: place(back.landmarks.lastRib), lastRib: place(back.landmarks.withersTop) };
    expect(proposeScan(scanOf(file), { landmarks: swapped }).tail).toMatchObject({ value: '-x', confidence: 'clear' });
    expect(() => proposeScan(scanOf(file), { tail: '+x', up: '+z', right: '-y' })).toThrow(/axes\.right/);
    expect(() => proposeScan(scanOf(file), { tail: '+x', up: '-x' })).toThrow(/one each of x, y and z/);
  });

  it('says that a mirrored scan can not be told', () => {
    const { mesh } = demoMesh('heron', 14);
    const mirrored = movedMesh(mesh, (q) => [q[0], -q[1], q[2]]);
    const p = proposeScan(scanOf(mirrored));
    expect(p.right.value).toBe('+y');
    expect(p.right.reason).toMatch(/mirrored has the same shape/);
    // Its triangles now face inward: noticed, and turned by the reader of the back.
    expect(p.up).toMatchObject({ value: '+z', confidence: 'likely' });
  });
});

describe('the scan of the examples', () => {
  const mesh = readPlainPly(readFileSync(new URL('../../../../examples/tuesday-scan.ply', import.meta.url)));
  const p = proposeScan(scanOf(mesh));
  const marked = JSON.parse(
    readFileSync(new URL('../../../../examples/tuesday-scan.back.json', import.meta.url), 'utf8'),
  );

  it('metres, tail -x, right -y, up +z, with hole and tuft', () => {
    expect(p.unit).toMatchObject({ value: 'm', confidence: 'clear' });
    expect([p.tail.value, p.right.value, p.up.value, p.turn.value]).toEqual(['-x', '-y', '+z', null]);
    // 5 degrees of yaw: the plane's normal, against the line of the marked landmarks.
    const [w, r] = [marked.landmarks.withersTop, marked.landmarks.lastRib];
    const line = [r[0] - w[0], r[1] - w[1], 0];
    expect(Math.abs(angleDeg(p.midplane.value.normalInFile, line) - 90)).toBeLessThan(0.6);
    expect(p.landmarks.bladeEdgeLeft.confidence).toBe('unsure');
  });

  it('a confirmed proposal makes a document whose landmarks stay marked as proposed', () => {
    const doc = scanDocumentFromProposal(p, { name: 'Tuesday', mesh: 'tuesday-scan.ply', measured: MEASURED });
    expect(doc).toMatchObject({ unit: 'm', axes: marked.axes, proposedLandmarks: NAMES });
    const { back } = buildScanBack(doc, mesh);
    expect([...back.landmarks.proposed].sort()).toEqual([...NAMES].sort());
    expect(back.warnings.join(' ')).toMatch(/proposed from the shape/);
    const own = scanDocumentFromProposal(p, {
      ...{ name: 'Tuesday', mesh: 'tuesday-scan.ply', measured: MEASURED },
      landmarks: marked.landmarks,
    });
    expect(own.proposedLandmarks).toEqual(['lowPoint']);
    expect(own.landmarks.lastRib).toEqual(marked.landmarks.lastRib);
  });

  it('other axes or another unit drop the landmarks that belonged to the proposal', () => {
    const base = { name: 'Tuesday', mesh: 'tuesday-scan.ply', measured: MEASURED };
    const turnedRound = scanDocumentFromProposal(p, { ...base, axes: { tail: '+x', right: '+y', up: '+z' } });
    expect(turnedRound.landmarks).toEqual({});
    expect(scanDocumentFromProposal(p, { ...base, unit: 'cm' }).landmarks).toEqual({});
  });
});

/** Directions of tail, right and up in the file. */
function directions(p: ScanProposal): number[][] {
  const axes = { tail: p.tail.value, right: p.right.value, up: p.up.value };
  const m = turnFromAxes(axes, 'mm', p.turn.value ?? undefined);
  expect(turnPoint(m, axisVector('+x')).length).toBe(3);
  return [m.slice(0, 3), m.slice(3, 6), m.slice(6, 9)];
}

/** Tuesday's table without sides of its own, for a plane that is known exactly. */
function symmetric(positions: Float64Array, k: number): number {
  const [x, y] = [positions[k - 2], positions[k - 1]];
  const { stationsMm } = demoBack('tuesday');
  const length = stationsMm[stationsMm.length - 1];
  return (x - 245) ** 2 / 2900 + 60 * Math.exp(-((x + 60) ** 2) / (0.03 * length ** 2)) - (y * y) / 420;
}
