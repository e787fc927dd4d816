import { barToHorse, outwardY, type SeatedTree, type Tree, transformPoint, undersidePoint } from '@barwright/geometry';
import type { GhostSurface, TreeView } from '../contract.ts';

type Point = readonly [number, number, number];

/** Bar's top in the bar frame at b and across t, right side: the underside lifted by its thickness. */
function onTop(tree: Tree, b: number, t: number): Point {
  const [x, y, z] = undersidePoint(tree, 'right', b, outwardY(tree, 'right', b, t));
  return [x, y, z + tree.right.row(b).thicknessMm];
}

/** Fork, cantle and ground seat as soft shapes with the pattern's own stations and gullet height; the rest is for the eye. */
export function viewTree(seated: SeatedTree): TreeView {
  const { tree } = seated;
  const matrix = barToHorse(seated.seat.pose);
  const settle = (points: readonly Point[]): Float32Array =>
    Float32Array.from(points.flatMap(([x, y, z]) => transformPoint(matrix, x, y, z)));
  const net = (rows: number, columns: number, at: (u: number, v: number) => Point): GhostSurface => ({
    rows,
    columns,
    positions: settle(
      Array.from({ length: rows * columns }, (_, k) =>
        at(Math.floor(k / columns) / (rows - 1), (k % columns) / (columns - 1)),
      ),
    ),
  });
  const fork = forkShape(tree);
  const cantle = cantleShape(tree);
  const seat = seatShape(tree);
  const line = (at: (u: number) => Point): Float32Array => settle(Array.from({ length: 25 }, (_, i) => at(i / 24)));
  return {
    fork: line((u) => fork(0.5, u)),
    cantle: line((u) => cantle(0.5, u)),
    seat: line((u) => seat(u, 0.5)),
    surfaces: { fork: net(33, 21, fork), cantle: net(33, 17, cantle), seat: net(25, 25, seat) },
  };
}

const mirror = (v: number): 1 | -1 => (v < 0 ? -1 : 1);

/** Around the arch with u, around its thickness with v. The inner arch reaches the gullet height above the inner edges. */
function forkShape(tree: Tree): (u: number, v: number) => Point {
  const back = tree.parts.forkBackMm;
  const front = Math.max(12, back - 62);
  const foot = onTop(tree, (front + back) / 2, -0.15);
  const [, innerY, innerZ] = undersidePoint(tree, 'right', back, outwardY(tree, 'right', back, -1));
  const top = innerZ + tree.parts.gulletHeightMm;
  return (u, v) => {
    const angle = Math.PI * (u - 0.5);
    const across = Math.sin(angle);
    const up = Math.cos(angle);
    const turn = 2 * Math.PI * v;
    const radial = 21 + 17 * Math.sin(turn);
    const swell = 1 + 0.22 * Math.sin(2 * Math.abs(angle)) ** 2;
    const archY = innerY * 0.98 + (foot[1] - innerY) * (1 - up ** 0.6);
    const y = across * (archY + radial * (0.35 + 0.65 * up) * swell);
    const z = foot[2] - 6 + (top - foot[2] + 6) * up ** 0.8 + radial * up;
    const x = foot[0] + ((back - front) / 2) * Math.cos(turn) * (0.75 + 0.25 * (1 - up)) - 16 * up;
    return [x, y, z];
  };
}

/** A dished board standing on the rear bars, leaning back: u across, v up its front, over the rim and down its back. */
function cantleShape(tree: Tree): (u: number, v: number) => Point {
  const length = tree.right.shape.lengthMm;
  const b = Math.min(length - 30, tree.parts.cantleFrontMm);
  const foot = onTop(tree, b, 0.1);
  const rise = 96;
  return (u, v) => {
    const s = 2 * u - 1;
    const side = mirror(s);
    const half = foot[1] + 18;
    const rim = Math.sqrt(Math.max(0, 1 - Math.abs(s) ** 2.6));
    const onBars = onTop(tree, b, Math.max(-1, (Math.abs(s) * half - foot[1]) / 70));
    const baseZ =
      Math.abs(s) * half > foot[1] * 0.6 ? onBars[2] : foot[2] + 20 * (1 - (Math.abs(s) * half) / (foot[1] * 0.6));
    const upFront = v < 0.5 ? 2 * v : 2 - 2 * v;
    const thick = v < 0.5 ? -9 : 9;
    const height = rise * rim * upFront;
    const lean = 0.42 * height + 26 * (1 - s * s) * upFront ** 0.7;
    return [
      foot[0] + lean + thick * (1 - upFront ** 4),
      side * Math.abs(s) * half,
      Math.min(baseZ, foot[2] + 20) + height,
    ];
  };
}

/** From the fork to the cantle, draped from bar to bar: u along, v across. */
function seatShape(tree: Tree): (u: number, v: number) => Point {
  const { forkBackMm, cantleFrontMm, seatLowMm } = tree.parts;
  return (u, v) => {
    const b = forkBackMm + u * (cantleFrontMm - forkBackMm);
    const s = 2 * v - 1;
    const edge = onTop(tree, b, 0.15 + 0.25 * u);
    const away =
      b < seatLowMm ? (seatLowMm - b) / (seatLowMm - forkBackMm) : (b - seatLowMm) / (cantleFrontMm - seatLowMm);
    const rise = 26 + (b < seatLowMm ? 66 : 40) * Math.abs(away) ** 1.8;
    const inner = onTop(tree, b, -1);
    const crest = inner[2] + rise;
    const drape = 1 - Math.abs(s) ** 2.2;
    return [edge[0], s * edge[1], edge[2] + (crest - edge[2]) * drape];
  };
}
