import { readFileSync } from 'node:fs';
import {
  buildBack,
  buildTree,
  type Pose,
  readBack,
  readPattern,
  readRider,
  readShelf,
  resolvePattern,
  rideStride,
  SETUP_DEFAULTS,
  sampleBars,
  seatTree,
  sizeShelf,
  strideOf,
} from '../../packages/geometry/src/index.ts';
import { measureInterleaved } from './measure.ts';
import type { Row } from './row.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`examples/${name}`, `file://${process.cwd()}/`), 'utf8'));
const back = buildBack(readBack(example('tuesday.back.json')));
const tree = buildTree(resolvePattern(readPattern(example('post.pattern.json'))));

/** One stride of 36 phases against 36 seatings after a small change, and how soon a shelf begins to fill. */
export async function run(): Promise<Row[]> {
  return [strideRow(), shelfRow()];
}

function strideRow(): Row {
  const stride = strideOf(back);
  const samples = sampleBars(tree.left, tree.right, { samples: SETUP_DEFAULTS.samples });
  const settled = seatTree(tree, back, SETUP_DEFAULTS, { samples }).seat.pose;
  let unsettled = 0;
  const times = measureInterleaved(
    () => {
      const { phases } = rideStride(tree, back, SETUP_DEFAULTS, stride);
      unsettled = phases.filter(({ status }) => status !== 'settled').length;
      return phases.length;
    },
    () => {
      let pose: Pose = settled;
      for (let i = 0; i < stride.phases; i++) {
        const start = { ...pose, zMm: pose.zMm + 0.3 };
        pose = seatTree(tree, back, SETUP_DEFAULTS, { samples, start }).seat.pose;
      }
      return pose.zMm;
    },
    { rounds: 7, warmUps: 2 },
  );
  return {
    target: '-',
    name: 'a stride of 36 phases, patch moved and tips read, against 36 seatings 0.3 mm off on the standing back',
    ...times,
    unit: 'ms',
    accuracy: `${unsettled} phases not settled; asked: reference plus 20 %`,
  };
}

/** Whole processes' times are of no use here: the first tree against all of them, in one run. */
function shelfRow(): Row {
  const shelf = readShelf(example('quillback-lane.shelf.json'));
  const rider = readRider(example('heavy.rider.json'));
  const pattern = readPattern(example('post.pattern.json'));
  const setup = { ...SETUP_DEFAULTS, samples: 3000 };
  const begun = performance.now();
  const sizing = sizeShelf({ rider, shelf, pattern, back, setup });
  let step = sizing.next();
  const first = performance.now() - begun;
  let trees = 0;
  for (; !step.done; step = sizing.next()) trees++;
  const all = performance.now() - begun;
  return {
    target: '-',
    name: `first of ${trees} trees of a shelf under ${rider.riding.cases.length} cases (ours), against the whole shelf`,
    ours: first,
    reference: all,
    ratio: all / first,
    unit: 'ms',
  };
}
