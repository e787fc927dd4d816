import { seededRandom } from '../numeric/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import type { BackSurface } from './back-surface.ts';
import { buildSectionsBack } from './build-sections-back.ts';
import { type DemoBack, demoBack } from './demo-backs.fixture.ts';

type Random = () => number;

/** Nearly normal: the sum of twelve uniform numbers. */
const normal = (random: Random): number => {
  let sum = -6;
  for (let k = 0; k < 12; k++) sum += random();
  return sum;
};

const cloudOf = (positions: number[]): TriangleMesh => ({
  positions: Float64Array.from(positions),
  triangles: new Uint32Array(0),
});

function addBack(back: BackSurface, count: number, noiseMm: number, random: Random, out: number[]): void {
  for (let i = 0; i < count; i++) {
    const [x, y] = [785 * random() - 95, 460 * random() - 230];
    out.push(x, y, back.heightMm(x, y) + noiseMm * normal(random));
  }
}

/** Points of a demo horse's back, horse frame in mm, scattered in height. */
export function demoCloud(name: DemoBack, count: number, noiseMm: number, seed: number) {
  const back = buildSectionsBack(demoBack(name));
  const points: number[] = [];
  addBack(back, count, noiseMm, seededRandom(seed), points);
  return { back, cloud: cloudOf(points) };
}

/** The same with a round belly half a metre below, four legs and the floor round them: half as many points again. */
export function leggedCloud(name: DemoBack, count: number, noiseMm: number, seed: number) {
  const random = seededRandom(seed);
  const back = buildSectionsBack(demoBack(name));
  const points: number[] = [];
  addBack(back, count, noiseMm, random, points);
  for (let i = 0; i < count / 4; i++) {
    const [x, y] = [785 * random() - 95, 460 * random() - 230];
    points.push(x, y, -520 + (y / 230) ** 2 * 200 + noiseMm * normal(random));
  }
  for (let i = 0; i < count / 4; i++) {
    const [atX, atY] = [random() < 0.5 ? 10 : 590, random() < 0.5 ? -130 : 130];
    const turn = 2 * Math.PI * random();
    points.push(atX + 50 * Math.cos(turn), atY + 50 * Math.sin(turn), -450 - 600 * random());
  }
  return { back, cloud: cloudOf(points) };
}
