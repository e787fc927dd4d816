import { describe, expect, it } from 'vitest';
import { seededRandom } from '../numeric/index.ts';
import { createFootRows, type DistanceField } from '../spatial/index.ts';
import type { BackSurface } from './back-surface.ts';
import { moveBlades } from './blades.ts';
import { buildScanBack } from './build-scan-back.ts';
import { buildSectionsBack } from './build-sections-back.ts';
import { demoBack } from './demo-backs.fixture.ts';
import { type Lift, patchLift } from './lift.ts';
import { scanBackSchema } from './scan-schema.ts';

/** A back lifted by its moved patches against the back built with them where they are. */
const doc = demoBack('heron');
const swing = { leftMm: 60, rightMm: 25 };
const patch = (side: 'left' | 'right', movedMm: number) => ({
  standing: { heightMm: doc.bladeBulge[side].heightMm, edgeXMm: 0 },
  moved: { heightMm: doc.bladeBulge[side].heightMm, edgeXMm: movedMm },
});
const lift = patchLift(patch('left', swing.leftMm), patch('right', swing.rightMm));
const standing = buildSectionsBack(doc);
const lifted = standing.lifted(lift);
const built = buildSectionsBack(doc, swing);

/** Points above the shoulder and behind it, both sides; 3n, left half first. */
function pointsOver(back: BackSurface, seed: number, n = 300): Float64Array {
  const random = seededRandom(seed);
  const points = new Float64Array(3 * n);
  for (let i = 0; i < n; i++) {
    const [x, y] = [-60 + 260 * random(), (60 + 140 * random()) * (i < n / 2 ? -1 : 1)];
    points.set([x, y + 4 * Math.sign(y), back.heightMm(x, y) + 8 + 14 * random()], 3 * i);
  }
  return points;
}

function worstOf(a: DistanceField, b: DistanceField, points: Float64Array): { mm: number; deg: number } {
  const n = points.length / 3;
  const [one, other] = [a, b].map((field) => {
    const rows = createFootRows(n);
    field.evaluate(points, 0, n / 2, 'left', rows, false);
    field.evaluate(points, n / 2, n, 'right', rows, false);
    return rows;
  });
  let mm = 0;
  let deg = 0;
  for (let i = 0; i < n; i++) {
    expect(one!.hasData[i]).toBe(other!.hasData[i]);
    if (one!.hasData[i] === 0) continue;
    mm = Math.max(mm, Math.abs(one!.distanceMm[i]! - other!.distanceMm[i]!));
    const dot = [0, 1, 2].reduce((sum, k) => sum + one!.normal[3 * i + k]! * other!.normal[3 * i + k]!, 0);
    deg = Math.max(deg, (Math.acos(Math.min(1, dot)) * 180) / Math.PI);
  }
  return { mm, deg };
}

describe('a lifted back is the back of the lifted heights', () => {
  it('sections, fast path: within 0.005 mm and 0.1 degrees of the charts built afresh (seed 81, 300 points)', () => {
    const worst = worstOf(lifted.fast, built.fast, pointsOver(built, 81));
    expect(worst.mm).toBeLessThan(5e-3);
    expect(worst.deg).toBeLessThan(0.1);
  });

  it('sections, exact path: the same feet to 1e-7 mm (seed 82, 300 points)', () => {
    expect(worstOf(lifted.exact, built.exact, pointsOver(built, 82)).mm).toBeLessThan(1e-7);
  });

  it('blades moved by name are the same lift, and their edges go with them', () => {
    const moved = moveBlades(standing, swing);
    expect(worstOf(moved.fast, lifted.fast, pointsOver(built, 86)).mm).toBe(0);
    expect(moved.landmarks.bladeEdgeLeft[0]).toBe(60);
    expect(moved.landmarks.bladeEdgeRight[0]).toBe(25);
    expect(standing.landmarks.bladeEdgeLeft[0]).toBe(0);
    expect(moveBlades(standing, { leftMm: 0, rightMm: 0 })).toBe(standing);
  });

  it('heights, data and drawing follow; lifting back down restores the standing back', () => {
    expect(lifted.heightMm(30, -130)).toBeCloseTo(built.heightMm(30, -130), 12);
    expect(lifted.heightMm(30, -130)).toBeGreaterThan(standing.heightMm(30, -130) + 5);
    expect(lifted.heightMm(300, -130)).toBe(standing.heightMm(300, -130));
    expect(lifted.heightMm(30, 900)).toBeNaN();
    const down: Lift = patchLift(
      { standing: patch('left', 60).moved, moved: patch('left', 60).standing },
      { standing: patch('right', 25).moved, moved: patch('right', 25).standing },
    );
    const restored = lifted.lifted(down);
    expect(worstOf(restored.fast, standing.fast, pointsOver(standing, 83)).mm).toBeLessThan(1e-4);
  });

  it('its own bound on the fast path is measured against its own exact path', () => {
    expect(lifted.fastAccuracy.samples).toBeGreaterThan(500);
    // High above the hollow behind the patch two feet are near each other; the same holds of the back built afresh.
    expect(lifted.fastAccuracy.boundMm).toBeLessThan(2 * Math.max(0.5, built.fastAccuracy.boundMm));
    expect(lifted.fastAccuracy.p99Mm).toBeLessThan(0.05);
  });

  it('a patch that stays where it is lifts nothing: the very same back', () => {
    expect(standing.lifted(patchLift(patch('left', 0), patch('right', 0)))).toBe(standing);
  });

  it('a scan of it, lifted, agrees with a scan of the built one within the sagitta of its facets, 0.15 mm (5 mm net, no smoothing)', () => {
    const scan = scanBackSchema.parse({
      schema: 'barwright/back/1',
      kind: 'scan',
      name: 'net',
      mesh: 'net.ply',
      unit: 'mm',
      axes: { tail: '+x', right: '+y', up: '+z' },
      landmarks: standing.landmarks.proposed.length === 0 ? marksOf(standing) : {},
      measured: standing.measured,
    });
    const [before, after] = [standing, built].map((back) => buildScanBack(scan, netOf(back), { smoothingMm: 0 }).back);
    expect(worstOf(before!.lifted(lift).fast, after!.fast, pointsOver(built, 84)).mm).toBeLessThan(0.15);
    expect(worstOf(before!.lifted(lift).exact, after!.exact, pointsOver(built, 85)).mm).toBeLessThan(1e-6);
  });
});

function marksOf({ landmarks }: BackSurface) {
  const { bladeEdgeLeft, bladeEdgeRight, withersTop, lowPoint, lastRib } = landmarks;
  return { bladeEdgeLeft, bladeEdgeRight, withersTop, lowPoint, lastRib };
}

/** A 5 mm net over x -100 ... 600, |y| up to 220. */
function netOf(back: BackSurface) {
  const [nx, ny] = [141, 89];
  const positions = new Float64Array(3 * nx * ny);
  const triangles: number[] = [];
  for (let i = 0; i < nx; i++) {
    for (let j = 0; j < ny; j++) {
      const [x, y] = [-100 + 5 * i, -220 + 5 * j];
      positions.set([x, y, back.heightMm(x, y)], 3 * (i * ny + j));
      if (i + 1 === nx || j + 1 === ny) continue;
      const a = i * ny + j;
      triangles.push(a, a + ny, a + 1, a + 1, a + ny, a + ny + 1);
    }
  }
  return { positions, triangles: Uint32Array.from(triangles) };
}
