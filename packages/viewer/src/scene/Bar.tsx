import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { DoubleSide } from 'three';
import type { BarView } from '../contract.ts';
import type { ColourTable } from './build/colour-table.ts';
import { writeColour } from './build/colour-table.ts';
import type { ContourLevel } from './build/contour-levels.ts';
import {
  addBoldContour,
  addFineContour,
  createRibbons,
  createSegments,
  type Ribbons,
  ribbonTriangles,
  type Segments,
} from './build/contours.ts';
import { cellOf, extended, extendPositions, gridTriangles } from './build/grid.ts';
import { createWoodNet, fillWood } from './build/wood.ts';
import type { ScenePalette } from './palette.ts';
import { createUndersideMaterial } from './underside-material.ts';
import { arrayOf, dynamicGeometry, touched, useGeometry } from './use-geometry.ts';

const MOST_BOLD = 3000;
const MOST_FINE = 12_000;
const BOLD_MM = 2;

export interface BarProps {
  readonly bar: BarView;
  /** One for each cell, NaN without data. */
  readonly values: Float32Array;
  readonly table: ColourTable;
  readonly levels: readonly ContourLevel[];
  readonly palette: ScenePalette;
  /** 0 solid .. 1 nearly gone. */
  readonly seeThrough: number;
}

/** One bar: its underside in map colours with contour lines, and its wood above. Arrays are written in place. */
export function Bar({ bar, values, table, levels, palette, seeThrough }: BarProps) {
  const { invalidate } = useThree();
  const size = `${bar.rows} ${bar.columns}`;
  const underside = useGeometry(size, () => createUnderside(bar));
  const bold = useGeometry('bold', createBold);
  const fine = useGeometry('fine', createFine);
  const net = useMemo(() => createWoodNet({ rows: bar.rows, columns: bar.columns }), [bar.rows, bar.columns]);
  const wood = useGeometry(size, () => createWood(net));
  const material = useMemo(createUndersideMaterial, []);
  useEffect(() => () => material.dispose(), [material]);

  useLayoutEffect(() => {
    extendPositions(bar.positions, bar.rows, bar.columns, arrayOf(underside, 'position'));
    touched(underside, 'position');
    fillWood(bar, net);
    wood.computeVertexNormals();
    touched(wood, 'position', 'normal');
    invalidate();
  }, [bar, underside, wood, net, invalidate]);

  useLayoutEffect(() => {
    paint(bar, values, table, underside);
    drawContours(bar, values, levels, bold, fine);
    invalidate();
  }, [bar, values, table, levels, underside, bold, fine, invalidate]);

  return (
    <group>
      <mesh geometry={underside} material={material} renderOrder={1} frustumCulled={false} />
      <mesh geometry={bold} renderOrder={2} frustumCulled={false}>
        <meshBasicMaterial color={palette.ink} side={DoubleSide} transparent opacity={0.85} depthWrite={false} />
      </mesh>
      <lineSegments geometry={fine} renderOrder={2} frustumCulled={false}>
        <lineBasicMaterial color={palette.ink} transparent opacity={0.6} depthWrite={false} />
      </lineSegments>
      <mesh geometry={wood} renderOrder={3} frustumCulled={false}>
        <Wood slot={0} colour={palette.wood} opacity={1 - seeThrough} />
        <Wood slot={1} colour={palette.wood} opacity={1 - 0.7 * seeThrough} />
      </mesh>
    </group>
  );
}

/** The upper side thins out before the edges do, so that the colours below keep their own look and the bar its outline. */
function Wood({ slot, colour, opacity }: { slot: 0 | 1; colour: string; opacity: number }) {
  const isSolid = opacity > 0.99;
  return (
    <meshStandardMaterial
      key={String(isSolid)}
      attach={`material-${slot}`}
      color={colour}
      roughness={0.85}
      metalness={0}
      side={DoubleSide}
      transparent={!isSolid}
      visible={opacity > 0.02}
      opacity={opacity}
      depthWrite={isSolid}
    />
  );
}

function createUnderside({ rows, columns }: BarView) {
  const n = extended(rows) * extended(columns);
  return dynamicGeometry(
    {
      position: [new Float32Array(3 * n), 3],
      color: [new Float32Array(3 * n), 3],
      known: [new Float32Array(n), 1],
      bearing: [new Float32Array(n), 1],
    },
    gridTriangles(extended(rows), extended(columns)),
  );
}

function createWood(net: ReturnType<typeof createWoodNet>) {
  const geometry = dynamicGeometry({ position: [net.positions, 3] }, net.triangles);
  geometry.addGroup(0, net.topIndices, 0);
  geometry.addGroup(net.topIndices, net.triangles.length - net.topIndices, 1);
  return geometry;
}

function createBold() {
  const ribbons = createRibbons(MOST_BOLD);
  const geometry = dynamicGeometry({ position: [ribbons.positions, 3] }, ribbonTriangles(MOST_BOLD));
  geometry.userData.lines = ribbons;
  return geometry;
}

function createFine() {
  const segments = createSegments(MOST_FINE);
  const geometry = dynamicGeometry({ position: [segments.positions, 3] }, null);
  geometry.userData.lines = segments;
  return geometry;
}

function paint(
  bar: BarView,
  values: Float32Array,
  table: ColourTable,
  geometry: ReturnType<typeof createUnderside>,
): void {
  const color = arrayOf(geometry, 'color');
  const known = arrayOf(geometry, 'known');
  const bearing = arrayOf(geometry, 'bearing');
  const wide = extended(bar.columns);
  for (let i = 0; i < extended(bar.rows); i++) {
    for (let j = 0; j < wide; j++) {
      const at = i * wide + j;
      const cell = cellOf(i, j, bar.rows, bar.columns);
      writeColour(table, values[cell]!, color, at);
      known[at] = Number.isNaN(values[cell]!) ? 0 : 1;
      bearing[at] = bar.bearing[cell]!;
    }
  }
  touched(geometry, 'color', 'known', 'bearing');
}

function drawContours(
  bar: BarView,
  values: Float32Array,
  levels: readonly ContourLevel[],
  bold: ReturnType<typeof createBold>,
  fine: ReturnType<typeof createFine>,
): void {
  const ribbons = bold.userData.lines as Ribbons;
  const segments = fine.userData.lines as Segments;
  ribbons.count = 0;
  segments.count = 0;
  const grid = { rows: bar.rows, columns: bar.columns, positions: bar.positions, normals: bar.normals, values };
  for (const { value, isBold } of levels) {
    if (isBold) addBoldContour(grid, value, BOLD_MM, ribbons);
    else addFineContour(grid, value, segments);
  }
  bold.setDrawRange(0, 6 * ribbons.count);
  fine.setDrawRange(0, 2 * segments.count);
  touched(bold, 'position');
  touched(fine, 'position');
}
