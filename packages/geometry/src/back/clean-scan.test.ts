import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { InputError, seededRandom } from '../numeric/index.ts';
import { meshAreaMm2 } from '../surface/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { cleanScan } from './clean-scan.ts';
import { CLEAN_STEPS, type CleanStep } from './clean-steps.ts';
import { readPlainPly } from './plain-ply.fixture.ts';
import { demoMesh, filePlace, movedMesh } from './propose-scan.fixture.ts';

const HORSES = ['dumpling', 'heron', 'tuesday'] as const;
const reportOf = (mesh: TriangleMesh, step: CleanStep, unitMm = 1, steps: readonly CleanStep[] = CLEAN_STEPS) => {
  const done = cleanScan(mesh, steps, { unitMm });
  return { mesh: done.mesh, report: done.steps.find((s) => s.step === step)! };
};

/** Vertices that some triangle uses. */
const used = (mesh: TriangleMesh): Set<number> => new Set(mesh.triangles);

describe('a clean demo horse loses nothing', () => {
  it.each(HORSES.flatMap((name) => [[name, 0] as const, [name, 1] as const]))(
    '%s with %d mm of noise',
    (name, noise) => {
      for (const spacing of noise === 0 ? [7] : [10]) {
        const { mesh } = demoMesh(name, spacing, noise);
        const done = cleanScan(mesh);
        expect(done.steps.map(({ step, changed }) => [step, changed])).toEqual(CLEAN_STEPS.map((step) => [step, 0]));
        expect(done.mesh.triangles).toEqual(mesh.triangles);
        expect(done.mesh.positions).toEqual(mesh.positions);
      }
    },
  );
});

describe('the scan of the examples', () => {
  const mesh = readPlainPly(readFileSync(new URL('../../../../examples/tuesday-scan.ply', import.meta.url)));
  const marked = JSON.parse(
    readFileSync(new URL('../../../../examples/tuesday-scan.back.json', import.meta.url), 'utf8'),
  );
  /** Horse frame to the file, from two marked landmarks: make-scan.mjs puts the tuft at x 205, y 96. */
  const tuft = placeOnScan(marked.landmarks, 205, 96);

  it('the tuft is found where it was put, and only there', () => {
    const { mesh: cleaned, report } = reportOf(mesh, 'hair', 1000);
    expect(report.sentence).toMatch(/^1 small patches/);
    expect(report.changed).toBeGreaterThanOrEqual(3);
    const left = used(cleaned);
    const gone = [...used(mesh)].filter((v) => !left.has(v));
    for (const v of gone) {
      const away = 1000 * Math.hypot(mesh.positions[3 * v] - tuft[0], mesh.positions[3 * v + 1] - tuft[1]);
      expect(away).toBeLessThan(25);
    }
  });

  it('no spikes in normal noise; six put in are found, tuft and all else as before (seed 8)', () => {
    expect(reportOf(mesh, 'spikes', 1000).report.changed).toBe(0);
    const random = seededRandom(8);
    const positions = Float64Array.from(mesh.positions);
    const rim = rimOf(mesh);
    const put = new Set<number>();
    while (put.size < 6) {
      const v = Math.floor((random() * positions.length) / 3);
      if (rim.has(v) || put.has(v)) continue;
      put.add(v);
      positions[3 * v + 2] += (random() < 0.5 ? 0.012 : -0.012) * (1 + random());
    }
    const spiky = { positions, triangles: mesh.triangles };
    const { mesh: cleaned, report } = reportOf(spiky, 'spikes', 1000, ['spikes']);
    const left = used(cleaned);
    expect([...used(spiky)].filter((v) => !left.has(v)).sort()).toEqual([...put].sort());
    expect(report).toMatchObject({ changed: 6, largestMotionMm: 0 });
    expect(reportOf(spiky, 'hair', 1000).report.sentence).toMatch(/^1 small patches/);
  });

  it('counts the missing patch as a hole and fills nothing', () => {
    const { mesh: cleaned, report } = reportOf(mesh, 'pinholes', 1000, ['pinholes']);
    expect(report.sentence).toMatch(/^0 holes of at most 80 mm around and 1 larger/);
    expect(cleaned.triangles).toEqual(mesh.triangles);
  });
});

describe('each step', () => {
  const { mesh } = demoMesh('tuesday', 10, 1);

  it('hair: a tuft is found in any axes, unit and winding; a muscle is not (seed 4)', () => {
    const random = seededRandom(4);
    const raised = raise(mesh, 300, -120, 18, () => 4 + 5 * random());
    const place = filePlace({ tail: '-z', right: '+x', up: '-y' }, 'in');
    const inside = {
      ...movedMesh(raised, place),
      triangles: raised.triangles.map((_, k, all) => all[k - (k % 3) + 2 - (k % 3)]),
    };
    for (const [scan, unitMm] of [
      [raised, 1] as const,
      [movedMesh(raised, place), 25.4] as const,
      [inside, 25.4] as const,
    ]) {
      const { report, mesh: cleaned } = reportOf(scan, 'hair', unitMm);
      expect(report.sentence).toMatch(/^1 small patches/);
      const left = used(cleaned);
      for (const v of used(scan)) {
        const [x, y] = [mesh.positions[3 * v], mesh.positions[3 * v + 1]];
        if (!left.has(v)) expect(Math.hypot(x - 300, y + 120)).toBeLessThan(22);
      }
    }
    const muscle = raise(mesh, 300, -120, 90, (r) => 8 * (1 - r * r) ** 2);
    expect(reportOf(muscle, 'hair').report.changed).toBe(0);
    // A dent is not hair.
    expect(
      reportOf(
        raise(mesh, 300, -120, 18, () => -7),
        'hair',
      ).report.changed,
    ).toBe(0);
  });

  it('islands, repeats, split vertices and wrong winding are counted, and can be left alone', () => {
    const bad = spoilt(mesh);
    const { steps, mesh: cleaned } = cleanScan(bad);
    const changed = Object.fromEntries(steps.map((s) => [s.step, s.changed]));
    expect(changed).toMatchObject({ weld: 3, faces: 1, winding: 5, islands: 1, spikes: 0, hair: 0 });
    expect(meshAreaMm2(cleaned)).toBeCloseTo(meshAreaMm2(mesh), 3);
    expect(steps[0].largestMotionMm).toBeGreaterThan(0);
    expect(steps[0].largestMotionMm).toBeLessThan(1e-3);
    const kept = cleanScan(bad, ['winding']);
    expect(kept.steps.map((s) => s.step)).toEqual(['winding']);
    expect(kept.mesh.positions).toBe(bad.positions);
    expect(kept.mesh.triangles.length).toBe(bad.triangles.length);
    expect(cleanScan(bad, []).mesh.triangles).toEqual(bad.triangles);
  });

  it('leaves the mesh handed in as it was, and refuses what is no scan', () => {
    const before = { positions: mesh.positions.slice(), triangles: mesh.triangles.slice() };
    cleanScan(raise(mesh, 300, -120, 18, () => 6));
    cleanScan(mesh);
    expect(mesh).toEqual(before);
    expect(() => cleanScan(mesh, CLEAN_STEPS, { unitMm: 1000 })).toThrow(/wrong-unit|at most 10000 mm/);
    expect(() => cleanScan({ positions: mesh.positions, triangles: Uint32Array.of(0, 1, 999_999) })).toThrow(
      InputError,
    );
    const holed = Float64Array.from(mesh.positions);
    holed[5] = Number.NaN;
    expect(() => cleanScan({ positions: holed, triangles: mesh.triangles })).toThrow(InputError);
  });
});

function raise(mesh: TriangleMesh, x: number, y: number, radius: number, by: (r: number) => number): TriangleMesh {
  const positions = Float64Array.from(mesh.positions);
  for (let i = 0; i < positions.length; i += 3) {
    const r = Math.hypot(positions[i] - x, positions[i + 1] - y) / radius;
    if (r < 1) positions[i + 2] += by(r);
  }
  return { positions, triangles: mesh.triangles };
}

/** A loose triangle, one face twice, three corners cut off and shifted by a hair's breadth, five faces turned over. */
function spoilt(mesh: TriangleMesh): TriangleMesh {
  const n = mesh.positions.length / 3;
  const triangles = [...mesh.triangles];
  const extra: number[] = [];
  for (let i = 0; i < 3; i++) {
    const corner = triangles[3000 + 300 * i];
    extra.push(...[0, 1, 2].map((k) => mesh.positions[3 * corner + k] + 2e-4 * (k === 0 ? 1 : 0)));
    triangles[3000 + 300 * i] = n + i;
  }
  for (let i = 0; i < 5; i++) {
    const at = 900 + 600 * i;
    [triangles[at + 1], triangles[at + 2]] = [triangles[at + 2], triangles[at + 1]];
  }
  triangles.push(...triangles.slice(0, 3), n + 3, n + 4, n + 5);
  extra.push(300, 0, 400, 320, 0, 400, 300, 20, 400);
  return { positions: Float64Array.from([...mesh.positions, ...extra]), triangles: Uint32Array.from(triangles) };
}

function rimOf({ triangles }: TriangleMesh): Set<number> {
  const faces = new Map<string, number>();
  const key = (a: number, b: number) => `${Math.min(a, b)},${Math.max(a, b)}`;
  const edges = [...triangles.keys()].map((h) => [triangles[h], triangles[h % 3 === 2 ? h - 2 : h + 1]] as const);
  for (const [a, b] of edges) faces.set(key(a, b), (faces.get(key(a, b)) ?? 0) + 1);
  return new Set(edges.filter(([a, b]) => faces.get(key(a, b)) === 1).flat());
}

/** File coordinates (metres) of a place x behind the blade edges and y to the right, from the marked landmarks. */
function placeOnScan(marks: Record<string, number[]>, x: number, y: number): [number, number] {
  const { bladeEdgeLeft: l, bladeEdgeRight: r, withersTop: w, lastRib: b } = marks;
  const run = Math.hypot(b[0] - w[0], b[1] - w[1]);
  const back = [(b[0] - w[0]) / run, (b[1] - w[1]) / run];
  const right = [r[0] - l[0], r[1] - l[1]].map((value) => value / Math.hypot(r[0] - l[0], r[1] - l[1]));
  return [0, 1].map((k) => (l[k] + r[k]) / 2 + (x * back[k] + y * right[k]) / 1000) as [number, number];
}
