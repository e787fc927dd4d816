import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { DoubleSide } from 'three';
import type { BarView } from '../contract.ts';
import type { ColourMode } from '../state/view-state.ts';
import type { ColourTable } from './build/colour-table.ts';
import { writeColour } from './build/colour-table.ts';
import type { ContourLevel } from './build/contour-levels.ts';
import { addContour, createRibbons, ribbonTriangles } from './build/contours.ts';
import { cellOf, extended, extendPositions, gridTriangles } from './build/grid.ts';
import { createWoodNet, fillWood } from './build/wood.ts';
import type { ScenePalette } from './palette.ts';
import { createUndersideMaterial } from './underside-material.ts';
import { arrayOf, dynamicGeometry, touched, useGeometry } from './use-geometry.ts';

const MOST_RIBBONS = 9000;

export interface BarProps {
  readonly bar: BarView;
  readonly colour: ColourMode;
  readonly table: ColourTable;
  readonly levels: readonly ContourLevel[];
  readonly palette: ScenePalette;
  /** 0 solid .. 1 nearly gone. */
  readonly seeThrough: number;
}

/** One bar: its underside in map colours with contour lines, and its wood above. Arrays are written in place. */
export function Bar({ bar, colour, table, levels, palette, seeThrough }: BarProps) {
  const { invalidate } = useThree();
  const size = `${bar.rows} ${bar.columns}`;
  const underside = useGeometry(size, () => createUnderside(bar));
  const lines = useGeometry('', createLines);
  const net = useMemo(() => createWoodNet({ rows: bar.rows, columns: bar.columns }), [bar.rows, bar.columns]);
  const wood = useGeometry(size, () => dynamicGeometry({ position: [net.positions, 3] }, net.triangles));
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
    const values = colour === 'clearance' ? bar.gapMm : bar.pressureKPa;
    paint(bar, values, table, underside);
    drawContours(bar, values, levels, lines);
    invalidate();
  }, [bar, colour, table, levels, underside, lines, invalidate]);

  const opacity = 1 - 0.9 * seeThrough;
  return (
    <group>
      <mesh geometry={underside} material={material} renderOrder={1} />
      <mesh geometry={lines} renderOrder={2} frustumCulled={false}>
        <meshBasicMaterial color={palette.ink} side={DoubleSide} transparent opacity={0.75} depthWrite={false} />
      </mesh>
      <mesh geometry={wood} renderOrder={3}>
        <meshStandardMaterial
          key={String(opacity < 1)}
          color={palette.wood}
          roughness={0.85}
          metalness={0}
          side={DoubleSide}
          transparent={opacity < 1}
          opacity={opacity}
          depthWrite={opacity === 1}
        />
      </mesh>
    </group>
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

function createLines() {
  const ribbons = createRibbons(MOST_RIBBONS);
  const geometry = dynamicGeometry({ position: [ribbons.positions, 3] }, ribbonTriangles(MOST_RIBBONS));
  geometry.userData.ribbons = ribbons;
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
  geometry: ReturnType<typeof createLines>,
): void {
  const ribbons = geometry.userData.ribbons as ReturnType<typeof createRibbons>;
  ribbons.count = 0;
  const grid = { rows: bar.rows, columns: bar.columns, positions: bar.positions, normals: bar.normals, values };
  for (const { value, widthMm } of levels) addContour(grid, value, widthMm, ribbons);
  geometry.setDrawRange(0, 6 * ribbons.count);
  touched(geometry, 'position');
}
