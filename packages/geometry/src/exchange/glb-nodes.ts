import { type Matrix4, multiplyMatrices } from '../numeric/index.ts';
import type { JsonObject } from './glb-container.ts';
import { GLB_REMEDY, indicesAt, listOf, numbersAt } from './glb-fields.ts';
import { refuse } from './refuse.ts';

export interface PlacedNode {
  readonly node: JsonObject;
  readonly matrix: Matrix4;
  readonly place: string;
}

const DEEPEST = 256;
const IDENTITY: Matrix4 = Object.freeze([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1]);

/**
 * Every node that some scene shows (all of them when there is no scene), with its matrix to the scene. The hierarchy must be a
 * forest, as glTF 2.0 asks: a node has one parent at most, so a loop can be reached from nowhere and is looked for on its own.
 * @throws InputError cycle, malformed (two parents), too-large (more than 256 levels), and for damaged transforms.
 */
export function placeNodes(json: JsonObject): PlacedNode[] {
  const nodes = listOf(json, 'nodes', '');
  const children = nodes.map((node, i) => indicesAt(node, 'children', `nodes[${i}]`, nodes.length));
  const parents = parentsOf(children);
  checkLoops(parents);
  const placed: PlacedNode[] = [];
  const open = shownRoots(json, parents).map((index) => ({ index, above: IDENTITY, depth: 0 }));
  for (let step = open.pop(); step !== undefined; step = open.pop()) {
    const place = `nodes[${step.index}]`;
    if (step.depth >= DEEPEST) refuse('too-large', place, 'deeper', `at most ${DEEPEST} levels of nodes`, GLB_REMEDY);
    const matrix = multiplyMatrices(step.above, ownMatrix(nodes[step.index], place));
    placed.push({ node: nodes[step.index], matrix, place });
    // Taken from the end, so that they come out in the file's order.
    for (let c = children[step.index].length - 1; c >= 0; c--) {
      open.push({ index: children[step.index][c], above: matrix, depth: step.depth + 1 });
    }
  }
  return placed;
}

function parentsOf(children: readonly (readonly number[])[]): Int32Array {
  const parents = new Int32Array(children.length).fill(-1);
  children.forEach((list, parent) => {
    for (const child of list) {
      if (parents[child] >= 0) {
        refuse('malformed', `nodes[${child}]`, `parents ${parents[child]} and ${parent}`, 'one parent', GLB_REMEDY);
      }
      parents[child] = parent;
    }
  });
  return parents;
}

/** Walks up from every node, each stretch once. */
function checkLoops(parents: Int32Array): void {
  const walk = new Int32Array(parents.length).fill(-1);
  for (let start = 0; start < parents.length; start++) {
    let node = start;
    while (node >= 0 && walk[node] < 0) {
      walk[node] = start;
      node = parents[node];
    }
    if (node >= 0 && walk[node] === start) {
      refuse('cycle', `nodes[${node}]`, 'a node among its own children', 'nodes without loops', GLB_REMEDY);
    }
  }
}

function shownRoots(json: JsonObject, parents: Int32Array): number[] {
  const scenes = listOf(json, 'scenes', '');
  if (scenes.length === 0) return [...parents.keys()].filter((node) => parents[node] < 0).reverse();
  const roots = new Set<number>();
  scenes.forEach((scene, i) => {
    for (const node of indicesAt(scene, 'nodes', `scenes[${i}]`, parents.length)) {
      if (parents[node] >= 0) refuse('malformed', `scenes[${i}]`, node, 'nodes that have no parent', GLB_REMEDY);
      roots.add(node);
    }
  });
  return [...roots].reverse();
}

/** Row-major matrix of a node: its column-major `matrix`, or translation x rotation (unit quaternion x y z w) x scale. */
function ownMatrix(node: JsonObject, place: string): Matrix4 {
  const m = numbersAt(node, 'matrix', place, 16);
  const t = numbersAt(node, 'translation', place, 3);
  const q = numbersAt(node, 'rotation', place, 4);
  const s = numbersAt(node, 'scale', place, 3);
  if (m === null) return composed(t ?? [0, 0, 0], unitQuaternion(q ?? [0, 0, 0, 1], place), s ?? [1, 1, 1]);
  if (t !== null || q !== null || s !== null) {
    refuse('inconsistent', place, 'a matrix and its parts', 'a matrix or translation, rotation and scale', GLB_REMEDY);
  }
  if (m[3] !== 0 || m[7] !== 0 || m[11] !== 0 || m[15] !== 1) {
    const got = [m[3], m[7], m[11], m[15]].join(' ');
    refuse('malformed', place, got, 'a matrix that ends 0 0 0 1', GLB_REMEDY);
  }
  return [m[0], m[4], m[8], m[12], m[1], m[5], m[9], m[13], m[2], m[6], m[10], m[14], 0, 0, 0, 1];
}

function unitQuaternion(q: readonly number[], place: string): number[] {
  const length = Math.hypot(...q);
  if (!(Math.abs(length - 1) < 0.01)) refuse('out-of-range', place, q.join(' '), 'a rotation of length 1', GLB_REMEDY);
  return q.map((value) => value / length);
}

/** Rotation matrix of a unit quaternion: the standard form, from memory. */
function composed(t: readonly number[], [x, y, z, w]: readonly number[], s: readonly number[]): Matrix4 {
  return [
    (1 - 2 * (y * y + z * z)) * s[0],
    2 * (x * y - z * w) * s[1],
    2 * (x * z + y * w) * s[2],
    t[0],
    2 * (x * y + z * w) * s[0],
    (1 - 2 * (x * x + z * z)) * s[1],
    2 * (y * z - x * w) * s[2],
    t[1],
    2 * (x * z - y * w) * s[0],
    2 * (y * z + x * w) * s[1],
    (1 - 2 * (x * x + y * y)) * s[2],
    t[2],
    0,
    0,
    0,
    1,
  ];
}
