import { InputError } from '../numeric/index.ts';
import { cleanMesh, type TriangleMesh } from '../surface/index.ts';
import { type BarMeasures, type MeasureOptions, measureBar } from './measure-bar.ts';
import { type MeshAxes, type MeshUnit, turnToBarAxes } from './measure-mesh-axes.ts';
import { findUndersideFaces, type UndersideFaces } from './measure-mesh-faces.ts';
import { surfaceOfBarMesh } from './measure-mesh-surface.ts';
import type { BarSurface } from './measure-surface.ts';
import { defaultStations, joinMeasures, type TreeMeasures } from './measure-tree.ts';

export interface MeshMeasureOptions extends MeasureOptions {
  readonly axes?: MeshAxes;
  readonly unit?: MeshUnit;
  /** Which bars to measure; the other one, if there, is left out. */
  readonly side?: 'both' | 'left' | 'right';
  /** Where the midplane lies along the axis that points right, mm. */
  readonly midplaneMm?: number;
  /** Outward distance of the line that the rock is measured along, mm. */
  readonly bearingLineYMm?: number;
}

export const MESH_MEASURE_DEFAULTS = Object.freeze({
  axes: Object.freeze({ tail: '+x', right: '+y', up: '+z' } as const),
  unit: 'mm',
  side: 'both',
  midplaneMm: 0,
  bearingLineYMm: 120,
} as const);

/** Shortest and longest underside that bars can have, mm. */
const SHORTEST_MM = 150;
const LONGEST_MM = 1500;

/**
 * Measures the bars of an imported mesh: one bar or both, free of fork and cantle, in the frame of the tree. What is not known of
 * a mesh is found from its shape: the underside by where faces look, relief and flare by where sections and the bearing line
 * leave the arc of their middle. The stations count from the foremost tip edge.
 * @throws InputError 'empty' or 'degenerate' for a mesh without an underside, 'inconsistent' for axes that don't fit or bars joined
 * across the midplane, 'wrong-unit' for bars too short or too long, 'missing' when the bar of the wanted side isn't there
 */
export function measureBarMesh(mesh: TriangleMesh, options: MeshMeasureOptions = {}): TreeMeasures {
  const { surfaces, remarks } = surfacesOfBarMesh(mesh, options);
  const length = Math.max(...surfaces.map((s) => s.toMm));
  const stations = options.stations ?? defaultStations(length);
  const measures = (side: 'left' | 'right'): BarMeasures | null => {
    const surface = surfaces.find((s) => s.side === side);
    return surface === undefined ? null : measureBar(surface, stations, options);
  };
  return joinMeasures('mesh', measures('left'), measures('right'), remarks);
}

/**
 * The bars of a mesh as surfaces to be measured, left before right, b = 0 at the foremost tip edge.
 * @throws InputError as measureBarMesh does
 */
export function surfacesOfBarMesh(
  mesh: TriangleMesh,
  options: MeshMeasureOptions = {},
): { surfaces: BarSurface[]; remarks: readonly string[] } {
  const settings = { ...MESH_MEASURE_DEFAULTS, ...options };
  if (mesh.triangles.length === 0) refuseEmpty();
  const cleaned = cleanMesh(turnToBarAxes(mesh, settings.axes, settings.unit)).mesh;
  const positions = cleaned.positions.map((value, i) => (i % 3 === 1 ? value - settings.midplaneMm : value));
  const found = findUndersideFaces({ positions, triangles: cleaned.triangles });
  const sides = (['left', 'right'] as const).filter((side) => settings.side === 'both' || settings.side === side);
  const bars = sides.flatMap((side) => (found[side] === null ? [] : [{ side, faces: found[side] }]));
  if (bars.length === 0) refuseMissing(settings.side);
  for (const { side, faces } of bars) refuseSize(side, faces, settings.unit);
  const originXMm = Math.min(...bars.map(({ faces }) => faces.fromXMm));
  return {
    surfaces: bars.map(({ side, faces }) =>
      surfaceOfBarMesh(faces, { side, originXMm, bearingLineYMm: settings.bearingLineYMm }),
    ),
    remarks: found.remarks,
  };
}

function refuseSize(side: string, { fromXMm, toXMm }: UndersideFaces, unit: string): void {
  const length = toXMm - fromXMm;
  if (length >= SHORTEST_MM && length <= LONGEST_MM) return;
  throw new InputError({
    code: 'wrong-unit',
    field: 'unit',
    got: `${unit}: ${side} bar ${length.toPrecision(4)} mm long`,
    expected: `bars of ${SHORTEST_MM} to ${LONGEST_MM} mm`,
    remedy: 'Check the unit that the mesh was saved in, and which axis points to the tail.',
  });
}

function refuseMissing(side: string): never {
  throw new InputError({
    code: 'missing',
    field: 'side',
    got: `no underside on the ${side}`,
    expected: 'the bar of the side that was asked for',
    remedy: 'Ask for the other side, or check where the midplane lies and which axis points right.',
  });
}

function refuseEmpty(): never {
  throw new InputError({
    code: 'empty',
    field: 'mesh',
    got: 'no triangles',
    expected: "a mesh of a tree's bars",
    remedy: 'Export the bars again as triangles.',
  });
}
