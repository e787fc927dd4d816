import {
  barToHorse,
  outwardY,
  type SeatedTree,
  type Tree,
  thicknessAt,
  transformPoint,
  undersidePoint,
} from '@barwright/geometry';
import type { GhostSurface, TreeView } from '../contract.ts';

type Point = readonly [number, number, number];

/** Bar's top in the bar frame at b and across t, right side: the underside lifted by its thickness. */
function onTop(tree: Tree, b: number, t: number): Point {
  const [x, y, z] = undersidePoint(tree, 'right', b, outwardY(tree, 'right', b, t));
  return [x, y, z + thicknessAt(tree.right, b)];
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
    forkBackMm: tree.parts.forkBackMm,
    cantleFrontMm: tree.parts.cantleFrontMm,
    surfaces: { fork: net(33, 21, fork), cantle: net(33, 17, cantle), seat: net(25, 25, seat) },
  };
}

/**
 * Around the arch with u, around its thickness with v. The inner arch reaches the gullet height above the inner edges; the
 * stock swells beside the top and its feet spread along the bars.
 */
function forkShape(tree: Tree): (u: number, v: number) => Point {
  const back = tree.parts.forkBackMm;
  const front = Math.max(8, back - 78);
  const foot = onTop(tree, (front + back) / 2, -0.25);
  const [, innerY, innerZ] = undersidePoint(tree, 'right', back, outwardY(tree, 'right', back, -1));
  const rise = innerZ + tree.parts.gulletHeightMm - foot[2] + 8;
  return (u, v) => {
    const angle = Math.PI * (u - 0.5);
    const across = Math.sin(angle);
    const up = Math.cos(angle);
    const turn = 2 * Math.PI * v;
    const swell = Math.exp(-(((Math.abs(angle) - 0.85) / 0.36) ** 2));
    const outward = 0.5 + 0.5 * Math.sin(turn);
    const thickness = outward * (40 + 26 * swell);
    const innerArchY = innerY * 0.94 + (foot[1] - innerY * 0.94) * (1 - up) ** 2;
    const alongX = ((back - front) / 2) * (0.8 + 0.3 * (1 - up) ** 2 - 0.12 * outward);
    const rounded = Math.sign(Math.cos(turn)) * Math.abs(Math.cos(turn)) ** 0.6;
    return [
      foot[0] + alongX * rounded - 14 * up,
      across * innerArchY + Math.sign(across) * Math.abs(across) ** 0.8 * thickness * (0.55 + 0.45 * up),
      foot[2] - 8 + rise * up ** 0.7 + thickness * up,
    ];
  };
}

/** A dished board standing on the rear bars, leaning back: u across, v up its front, over the rim and down its back. */
function cantleShape(tree: Tree): (u: number, v: number) => Point {
  const b = Math.min(tree.right.shape.lengthMm - 40, tree.parts.cantleFrontMm);
  const foot = onTop(tree, b, 0.1);
  const half = foot[1] + 22;
  return (u, v) => {
    const s = 2 * u - 1;
    const across = (Math.abs(s) * half - foot[1]) / 60;
    const base =
      across > -1 ? onTop(tree, b, across)[2] : onTop(tree, b, -1)[2] + 10 * (1 - (s * half) ** 2 / foot[1] ** 2);
    const up = Math.max(0, Math.sin(Math.PI * v)) ** 0.7;
    const height = (12 + 84 * Math.sqrt(Math.max(0, 1 - s ** 4))) * up;
    const dish = 34 * (1 - s * s);
    const thickness = -10 * Math.cos(Math.PI * v);
    return [foot[0] + thickness + 0.38 * height + dish * (0.35 + 0.65 * up), s * half, base - 6 + height];
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
