import { describe, expect, it } from 'vitest';
import { buildSectionsBack } from '../back/build-sections-back.ts';
import { demoBack } from '../back/demo-backs.fixture.ts';
import { demoTree } from '../bar/demo-tree.fixture.ts';
import { sampleBars } from '../bar/index.ts';
import { rotationOf, seededRandom } from '../numeric/index.ts';
import { createFootRows, type DistanceField } from '../spatial/distance-field.ts';
import {
  cylinderField,
  movedField,
  planeField,
  sphereField,
  torusField,
  torusHeight,
} from './analytic-fields.fixture.ts';
import { ORIGIN, patchBody } from './bodies.fixture.ts';
import {
  assembleEquilibrium,
  type ContactBody,
  createEquilibrium,
  type Load,
  placePoints,
  queryFeet,
} from './contact-energy.ts';
import { foundation } from './foundation.fixture.ts';
import { LEVER_MM, movePose, type Pose } from './pose.ts';

const STACK = foundation(0.05, 6);
const TILTED: Pose = { xMm: 4, yMm: -3, zMm: 1.5, rollRad: 0.06, pitchRad: -0.04, yawRad: 0.08 };
const LOADS: readonly Load[] = [
  { pointMm: [20, -12, 150], forceN: [15, -40, -800] },
  { pointMm: [-90, 30, 5], forceN: [0, 60, -120] },
];

function equilibrium(body: ContactBody, field: DistanceField, pose: Pose, loads = LOADS, out = createEquilibrium()) {
  const placed = new Float64Array(3 * body.count);
  const rows = createFootRows(body.count);
  placePoints(body.pointsMm, pose, placed);
  queryFeet(field, body, placed, rows, true);
  return assembleEquilibrium(body, placed, rows, rows.hasData, STACK, loads, pose, out);
}

const nudged = (pose: Pose, freedom: number, by: number): Pose => {
  const step = new Float64Array(6);
  step[freedom] = by;
  return movePose(pose, step);
};

/** Saddle-shaped body a little flatter than the torus it meets: some cells pressed, some clear. */
const saddleBody = patchBody({
  lengthMm: 300,
  widthMm: 120,
  nx: 23,
  ny: 11,
  at: [0, 70],
  heightMm: (x, y) => torusHeight(1600, 300, x, y),
});

const FIELDS: readonly (readonly [string, DistanceField, ContactBody])[] = [
  ['torus', torusField(900, 260), saddleBody],
  [
    'turned torus',
    movedField(torusField(900, 260), rotationOf({ rollRad: 0.2, pitchRad: 0.1, yawRad: 0.3 }), [5, 2, -8]),
    saddleBody,
  ],
  [
    'sphere',
    sphereField([0, 60, -400], 400, 'convex'),
    patchBody({ lengthMm: 120, widthMm: 90, nx: 17, ny: 13, at: [0, 60] }),
  ],
  [
    'valley',
    cylinderField([0, 0, 900], [0, 1, 0], 900, 'valley'),
    patchBody({ lengthMm: 300, widthMm: 90, nx: 23, ny: 9 }),
  ],
  [
    'convex cylinder',
    cylinderField([0, 0, -300], [1, 0, 0], 300, 'convex'),
    patchBody({ lengthMm: 300, widthMm: 90, nx: 19, ny: 9 }),
  ],
  [
    'tilted plane',
    planeField([0, 0, 0], [0, 0.6, 0.8]),
    patchBody({ lengthMm: 300, widthMm: 90, nx: 19, ny: 9, heightMm: (_x, y) => -0.75 * y }),
  ],
];

describe('analytic fields used as oracles', () => {
  for (const [name, field] of FIELDS) {
    it(`${name}: normal and Hessian are the differences of the distance (seed 41)`, () => {
      const random = seededRandom(41);
      const h = 1e-4;
      const ask = (p: readonly number[]) => {
        const rows = createFootRows(1);
        field.evaluate(Float64Array.from(p), 0, 1, 'right', rows, true);
        return rows;
      };
      for (let i = 0; i < 20; i++) {
        const p = [200 * random() - 100, 40 + 60 * random(), 20 + 30 * random()];
        const here = ask(p);
        expect(Math.hypot(...here.normal)).toBeCloseTo(1, 12);
        const hess = here.hessian;
        const full = [hess[0], hess[1], hess[2], hess[1], hess[3], hess[4], hess[2], hess[4], hess[5]];
        for (let a = 0; a < 3; a++) {
          const [ahead, behind] = [1, -1].map((s) => ask(p.map((v, k) => (k === a ? v + s * h : v))));
          expect((ahead.distanceMm[0] - behind.distanceMm[0]) / (2 * h)).toBeCloseTo(here.normal[a], 7);
          for (let b = 0; b < 3; b++) {
            expect((ahead.normal[b] - behind.normal[b]) / (2 * h)).toBeCloseTo(full[3 * a + b], 7);
          }
        }
      }
    });
  }
});

describe('energy, gradient and Hessian in all six freedoms', () => {
  for (const [name, field, body] of FIELDS) {
    it(`${name}: gradient within 1e-6 and Hessian within 1e-4 of central differences at a tilted pose`, () => {
      const here = equilibrium(body, field, TILTED);
      expect(here.pressedCells).toBeGreaterThan(20);
      const scale = Math.max(...here.gradient.map(Math.abs));
      const stiff = Math.max(...here.hessian.map(Math.abs));
      const h = 1e-3;
      for (let a = 0; a < 6; a++) {
        const [ahead, behind] = [
          equilibrium(body, field, nudged(TILTED, a, h)),
          equilibrium(body, field, nudged(TILTED, a, -h)),
        ];
        expect(Math.abs((ahead.energy - behind.energy) / (2 * h) - here.gradient[a])).toBeLessThan(1e-6 * scale);
        // A cell that enters or leaves within the step bends the gradient there by its own stiffness only.
        for (let b = 0; b < 6; b++) {
          const difference = (ahead.gradient[b] - behind.gradient[b]) / (2 * h);
          expect(Math.abs(difference - here.hessian[6 * a + b])).toBeLessThan(1e-4 * stiff);
        }
      }
    });

    it(`${name}: the Hessian is symmetric`, () => {
      const { hessian } = equilibrium(body, field, TILTED);
      for (let a = 0; a < 6; a++) for (let b = 0; b < a; b++) expect(hessian[6 * a + b]).toBe(hessian[6 * b + a]);
    });
  }

  it('demo tree on a demo back, exact path: gradient and Hessian agree with differences (1e-5 and 1e-3 of the largest)', () => {
    const back = buildSectionsBack(demoBack('heron'));
    const tree = demoTree('post');
    const body = sampleBars(tree.left, tree.right, { samples: 400 });
    const pose: Pose = { ...ORIGIN, xMm: 250, zMm: -4, rollRad: 0.02, pitchRad: 0.01, yawRad: -0.015 };
    const here = equilibrium(body, back.exact, pose);
    expect(here.pressedCells).toBeGreaterThan(50);
    const [scale, stiff] = [Math.max(...here.gradient.map(Math.abs)), Math.max(...here.hessian.map(Math.abs))];
    const h = 1e-3;
    for (let a = 0; a < 6; a++) {
      const [ahead, behind] = [
        equilibrium(body, back.exact, nudged(pose, a, h)),
        equilibrium(body, back.exact, nudged(pose, a, -h)),
      ];
      expect(Math.abs((ahead.energy - behind.energy) / (2 * h) - here.gradient[a])).toBeLessThan(1e-5 * scale);
      for (let b = 0; b < 6; b++) {
        expect(Math.abs((ahead.gradient[b] - behind.gradient[b]) / (2 * h) - here.hessian[6 * a + b])).toBeLessThan(
          1e-3 * stiff,
        );
      }
    }
  });

  it('loads alone: force on the shifts, moment about the turning axes, with the second turn of a dead load', () => {
    const body = patchBody({ lengthMm: 10, widthMm: 10, nx: 1, ny: 1 });
    const far: Pose = { ...TILTED, zMm: 500 };
    const here = equilibrium(body, planeField(), far);
    expect(here.pressedCells).toBe(0);
    expect(here.gradient[2]).toBeCloseTo(920, 9);
    for (let a = 0; a < 6; a++) {
      const [up, down] = [nudged(far, a, 1e-2), nudged(far, a, -1e-2)].map((p) => equilibrium(body, planeField(), p));
      for (let b = 0; b < 6; b++) {
        expect((up.gradient[b] - down.gradient[b]) / 0.02).toBeCloseTo(here.hessian[6 * a + b], 5);
      }
    }
  });

  it('cells without data do not count', () => {
    const field = planeField();
    const body = patchBody({ lengthMm: 100, widthMm: 10, nx: 10, ny: 1 });
    const placed = new Float64Array(30);
    const rows = createFootRows(10);
    placePoints(body.pointsMm, { ...ORIGIN, zMm: -1 }, placed);
    queryFeet(field, body, placed, rows, true);
    const mask = Uint8Array.from({ length: 10 }, (_, i) => (i < 4 ? 1 : 0));
    const all = assembleEquilibrium(body, placed, rows, rows.hasData, STACK, [], ORIGIN, createEquilibrium());
    const some = assembleEquilibrium(body, placed, rows, mask, STACK, [], ORIGIN, createEquilibrium());
    expect([all.pressedCells, some.pressedCells]).toEqual([10, 4]);
    expect(some.energy / all.energy).toBeCloseTo(0.4, 12);
  });

  it('placePoints turns about the origin of the body and then moves it', () => {
    const out = new Float64Array(3);
    placePoints(Float64Array.from([100, 0, 0]), { ...ORIGIN, xMm: 1, yMm: 2, zMm: 3, pitchRad: Math.PI / 6 }, out);
    expect(out[0]).toBeCloseTo(1 + 100 * Math.cos(Math.PI / 6), 12);
    expect(out[1]).toBe(2);
    expect(out[2]).toBeCloseTo(3 - 50, 12);
    expect(LEVER_MM).toBe(200);
  });
});
