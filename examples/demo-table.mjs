// The three demo patterns on the three demo backs: what the first-cut model of the trade brief gave, and what comes out
// now. Run after `npm run build`: node examples/demo-table.mjs
import { readFileSync } from 'node:fs';
import { fitDocuments, parseJson, readBack, readPattern, SETUP_DEFAULTS } from '../packages/geometry/dist/index.js';

const PATTERNS = ['wren', 'post', 'rail'];
const BACKS = ['dumpling', 'heron', 'tuesday'];

/**
 * First-cut figures, for direction and about +/-25 %: contact cm2, p95 kPa, middle mismatch mm (+ bridges, - rocks), load
 * thirds %. Another model with other signs, symmetric, one pad, no blade bulge; not a reference to be met.
 */
const FIRST_CUT = {
  wren: {
    dumpling: [949, 18, 0, [37, 38, 25]],
    heron: [600, 39, -16, [24, 60, 16]],
    tuesday: [829, 24, -8, [28, 54, 19]],
  },
  post: {
    dumpling: [988, 24, 10, [51, 16, 33]],
    heron: [979, 25, -9, [26, 57, 18]],
    tuesday: [1107, 16, 1, [38, 36, 25]],
  },
  rail: {
    dumpling: [902, 29, 20, [59, 5, 37]],
    heron: [1313, 14, -1, [35, 41, 24]],
    tuesday: [1143, 21, 10, [50, 18, 32]],
  },
};

/** A mismatch smaller than this has no sign worth comparing, mm. */
const NO_SIGN_MM = 1.5;

const read = (name) => parseJson(readFileSync(new URL(name, import.meta.url)), name);
const patterns = Object.fromEntries(PATTERNS.map((name) => [name, readPattern(read(`${name}.pattern.json`))]));
const backs = Object.fromEntries(BACKS.map((name) => [name, readBack(read(`${name}.back.json`))]));

/** [cm2, kPa, mm, [F, M, R]] and the status of one pair. */
function figuresOf(pattern, back) {
  const { result } = fitDocuments({ pattern, back, setup: SETUP_DEFAULTS }, { detail: 'figures' });
  const { contact, mismatch, status } = result;
  const middle = (mismatch.lengthwiseLeftMm + mismatch.lengthwiseRightMm) / 2;
  const thirds = [contact.shareFront, contact.shareMiddle, contact.shareRear].map((share) => 100 * share);
  return { status, figures: [contact.areaCm2, contact.p95PressureKPa, middle, thirds] };
}

const show = ([area, p95, middle, thirds]) => {
  const sign = Math.round(middle) > 0 ? '+' : '';
  return `${area.toFixed(0)} cm2, ${p95.toFixed(1)} kPa, ${sign}${(Math.round(middle * 10) / 10).toFixed(1)} mm, ${thirds.map((t) => t.toFixed(0)).join('/')} %`;
};

/** Where the two disagree in sign, order or by more than 25 %. */
function differences(now, then) {
  const notes = [];
  const signs = [now[2], then[2]].map((mm) => (Math.abs(mm) < NO_SIGN_MM ? 0 : Math.sign(mm)));
  if (signs[0] !== signs[1])
    notes.push(`mismatch ${then[2]} -> ${now[2].toFixed(1)} mm (under ${NO_SIGN_MM} mm counts as none)`);
  for (const [i, name] of [
    [0, 'area'],
    [1, 'p95'],
  ]) {
    const percent = Math.round(100 * (now[i] / then[i] - 1));
    if (Math.abs(percent) > 25) notes.push(`${name} ${percent > 0 ? '+' : ''}${percent} %`);
  }
  const heaviest = (thirds) => ['front', 'middle', 'rear'][thirds.indexOf(Math.max(...thirds))];
  const [a, b] = [heaviest(then[3]), heaviest(now[3])];
  if (a !== b) notes.push(`most load ${a} -> ${b}`);
  return notes;
}

const table = PATTERNS.map((p) => BACKS.map((b) => ({ p, b, ...figuresOf(patterns[p], backs[b]) })));
for (const row of table) {
  for (const { p, b, status, figures } of row) {
    console.log(`${patterns[p].name} on ${backs[b].name}${status === 'settled' ? '' : ` (${status})`}`);
    console.log(`  now        ${show(figures)}`);
    console.log(`  first cut  ${show(FIRST_CUT[p][b])}`);
    for (const note of differences(figures, FIRST_CUT[p][b])) console.log(`  differs: ${note}`);
  }
}

/** Names in rising order of a figure. */
const order = (names, value) => [...names].sort((a, b) => value(a) - value(b)).join(' < ');
console.log('Order by mismatch, rocking to bridging');
for (const [j, b] of BACKS.entries()) {
  const now = order(PATTERNS, (p) => table[PATTERNS.indexOf(p)][j].figures[2]);
  const then = order(PATTERNS, (p) => FIRST_CUT[p][b][2]);
  console.log(`  ${backs[b].name}: ${now}${now === then ? ' (as in the first cut)' : ` (first cut: ${then})`}`);
}
