import type { BarView, FitView } from '../../contract.ts';
import type { BarSide, ShapeName } from '../../ruler/ShapeHandles.tsx';
import { STATION_TOP_MM } from '../labels-of.ts';

type Point = readonly [number, number, number];

export type GripName = 'station' | 'set' | ShapeName;

/** Something in the picture that can be taken hold of and moved along one direction. */
export interface Grip {
  readonly name: GripName;
  /** Horse frame, mm. */
  readonly at: Point;
  /** Where it goes, horse frame, when its length grows by one mm. */
  readonly along: Point;
  readonly mm: number;
  readonly minMm: number;
  readonly maxMm: number;
}

/** How far either way the marker and the tree can be moved by hand. */
const STATION = { minMm: -150, maxMm: 750 };
const SET = { minMm: -150, maxMm: 150 };
const BACKWARD: Point = [1, 0, 0];

/** What can be taken hold of: the station, where the tree is set, and of its near bar the rock and both tips. */
export function gripsOf(
  bars: FitView['bars'] | null,
  side: BarSide | null,
  { stationXMm, setPositionMm, near }: { stationXMm: number; setPositionMm: number; near: 'left' | 'right' },
): Grip[] {
  const station: Grip = {
    name: 'station',
    at: [stationXMm, 0, STATION_TOP_MM],
    along: BACKWARD,
    mm: stationXMm,
    ...STATION,
  };
  if (bars === null) return [station];
  const tips = [middleOf(bars.left, 0), middleOf(bars.right, 0)] as const;
  const between = tips[0].map((value, k) => (value + tips[1][k]!) / 2) as [number, number, number];
  const set: Grip = { name: 'set', at: between, along: BACKWARD, mm: setPositionMm, ...SET };
  return [station, set, ...(side === null ? [] : shapeGrips(bars[near], side))];
}

function shapeGrips(bar: BarView, side: BarSide): Grip[] {
  const grip = (name: ShapeName, row: number, up: 1 | -1): Grip[] => {
    const of = side[name];
    if (of === null) return [];
    const { mm, minMm, maxMm } = of;
    return [{ name, at: middleOf(bar, row), along: [0, 0, up], mm, minMm, maxMm }];
  };
  const low = side.rock === null ? 0 : rowAt(bar, side.rock.lowPointMm);
  return [...grip('rock', low, -1), ...grip('flareFront', 0, 1), ...grip('flareRear', bar.rows - 1, 1)];
}

/** Middle cell of a row. */
function middleOf({ positions, columns }: BarView, row: number): Point {
  const k = 3 * (row * columns + Math.floor(columns / 2));
  return [positions[k]!, positions[k + 1]!, positions[k + 2]!];
}

/** Row whose middle cell lies nearest to a length from the front tip. */
function rowAt({ bMm, rows, columns }: BarView, lengthMm: number): number {
  let best = 0;
  const off = (row: number): number => Math.abs(bMm[row * columns + Math.floor(columns / 2)]! - lengthMm);
  for (let row = 1; row < rows; row++) if (off(row) < off(best)) best = row;
  return best;
}

/** On the page, px: where a grip is, and how far one mm of it goes. */
export interface OnPage {
  readonly x: number;
  readonly y: number;
  readonly perMm: readonly [number, number];
}

/** Less than this many px for a mm, and the direction points too straight at the eye to be dragged along. */
export const LEAST_PX_PER_MM = 0.12;

/** Length after the pointer has moved by (dx, dy) px: the move's share along the grip, within its ends, in half millimetres. */
export function pulled({ mm, minMm, maxMm }: Grip, { perMm }: OnPage, dx: number, dy: number): number {
  const [u, v] = perMm;
  const moved = (dx * u + dy * v) / (u * u + v * v);
  const wanted = Math.round(2 * (mm + moved)) / 2;
  return Math.min(maxMm, Math.max(minMm, wanted));
}
