// Makes a mesh as a hand-held scanner might leave it, from the invented horse Tuesday: uneven spacing, noise, a hole, a
// tuft of hair, metres, x to the head. Run after `npm run build`: node examples/make-scan.mjs [folder]
// The same bytes every time; the copies in this folder were made by it.
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { buildBack, parseJson, readBack, seededRandom } from '../packages/geometry/dist/index.js';

const SEED = 20261012;
const NOISE_MM = 1;
const FROM = { x: -100, y: -232 };
const TO = { x: 690, y: 232 };
/** Steps drift between these, mm. */
const STEP = { least: 5, most: 10 };
/** A patch that the scanner did not see, and hair that it took for the back. Horse frame, mm. */
const HOLE = { x: 335, y: -150, radiusX: 34, radiusY: 24 };
const TUFT = { x: 205, y: 96, radius: 16, heightMm: 9 };
/** Where the file's origin lies and how the horse stood in it. */
const FILE = { turnRad: (5 * Math.PI) / 180, xMm: 1350, yMm: 240, zMm: 1440 };

const random = seededRandom(SEED);
/** Normal by the polar method (Marsaglia & Bray 1964, from memory). */
function noise() {
  for (;;) {
    const [u, v] = [2 * random() - 1, 2 * random() - 1];
    const s = u * u + v * v;
    if (s > 0 && s < 1) return NOISE_MM * u * Math.sqrt((-2 * Math.log(s)) / s);
  }
}

const here = (name) => fileURLToPath(new URL(name, import.meta.url));
const document = readBack(parseJson(readFileSync(here('tuesday.back.json')), 'tuesday.back.json'));
const back = buildBack(document);

/** Horse frame mm to the file's metres: x to the head, y to the left, z up, turned a little about the vertical. */
function toFile([x, y, z]) {
  const [c, s] = [Math.cos(FILE.turnRad), Math.sin(FILE.turnRad)];
  const [ahead, left] = [-x, -y];
  return [FILE.xMm + c * ahead - s * left, FILE.yMm + s * ahead + c * left, FILE.zMm + z].map((mm) => mm / 1000);
}

/** Places along one direction whose steps drift. */
function unevenPlaces(from, to) {
  const places = [from];
  while (places.at(-1) < to) {
    const wave = 0.5 + 0.5 * Math.sin(places.length / 6);
    places.push(places.at(-1) + STEP.least + (STEP.most - STEP.least) * (0.7 * wave + 0.3 * random()));
  }
  return places.map((place) => from + ((place - from) * (to - from)) / (places.at(-1) - from));
}

const xs = unevenPlaces(FROM.x, TO.x);
const ys = unevenPlaces(FROM.y, TO.y);
const inHole = (x, y) => ((x - HOLE.x) / HOLE.radiusX) ** 2 + ((y - HOLE.y) / HOLE.radiusY) ** 2 < 1;

const vertices = [];
const index = xs.map((x0) =>
  ys.map((y0) => {
    const x = Math.min(TO.x, Math.max(FROM.x, x0 + 1.6 * (random() - 0.5)));
    const y = Math.min(TO.y, Math.max(FROM.y, y0 + 1.6 * (random() - 0.5)));
    const z = back.heightMm(x, y);
    const r = Math.hypot(x - TUFT.x, y - TUFT.y) / TUFT.radius;
    const hair = r < 1 ? TUFT.heightMm * (1 - r * r) * random() : 0;
    const height = z + hair + noise();
    if (Number.isNaN(z) || inHole(x, y)) return -1;
    return vertices.push(toFile([x, y, height])) - 1;
  }),
);

const faces = [];
for (let i = 0; i + 1 < xs.length; i++) {
  for (let j = 0; j + 1 < ys.length; j++) {
    const [a, b, c, d] = [index[i][j], index[i + 1][j], index[i + 1][j + 1], index[i][j + 1]];
    // Both diagonals occur, as in a real triangulation.
    const halves =
      random() < 0.5
        ? [
            [a, b, c],
            [a, c, d],
          ]
        : [
            [a, b, d],
            [b, c, d],
          ];
    for (const half of halves) if (!half.includes(-1)) faces.push(half);
  }
}

function plyBytes() {
  const header = [
    'ply',
    'format binary_little_endian 1.0',
    'comment invented scan of the demo horse Tuesday; metres, x to the head, z up',
    `element vertex ${vertices.length}`,
    'property float x',
    'property float y',
    'property float z',
    `element face ${faces.length}`,
    'property list uchar int vertex_indices',
    'end_header\n',
  ].join('\n');
  const bytes = Buffer.alloc(header.length + 12 * vertices.length + 13 * faces.length);
  let at = bytes.write(header, 'latin1');
  for (const point of vertices) for (const value of point) at = bytes.writeFloatLE(value, at);
  for (const face of faces) {
    at = bytes.writeUInt8(3, at);
    for (const corner of face) at = bytes.writeInt32LE(corner, at);
  }
  return bytes;
}

const round = (point) => toFile(point).map((metres) => Math.round(metres * 1e4) / 1e4);
const { bladeEdgeLeft, bladeEdgeRight, withersTop, lastRib } = back.landmarks;
const scan = {
  schema: 'barwright/back/1',
  kind: 'scan',
  name: 'Tuesday, scanned',
  notes:
    'Invented: made from the sections of Tuesday with noise, a hole and a tuft of hair. The low point was not marked.',
  mesh: 'tuesday-scan.ply',
  unit: 'm',
  axes: { tail: '-x', right: '-y', up: '+z' },
  landmarks: {
    bladeEdgeLeft: round(bladeEdgeLeft),
    bladeEdgeRight: round(bladeEdgeRight),
    withersTop: round(withersTop),
    lastRib: round(lastRib),
  },
  measured: { by: 'Quillback Lane bench (invented)', on: '2026-10-14', uncertaintyMm: 2, uncertaintyDeg: 1 },
};

const folder = process.argv[2] ?? here('.');
writeFileSync(`${folder}/tuesday-scan.ply`, plyBytes());
writeFileSync(`${folder}/tuesday-scan.back.json`, `${JSON.stringify(scan, null, 2)}\n`);
console.log(`${vertices.length} points, ${faces.length} triangles`);
