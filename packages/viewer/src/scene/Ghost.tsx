import { useThree } from '@react-three/fiber';
import { useLayoutEffect } from 'react';
import { DoubleSide } from 'three';
import type { GhostSurface, TreeView } from '../contract.ts';
import { gridTriangles } from './build/grid.ts';
import type { ScenePalette } from './palette.ts';
import { arrayOf, dynamicGeometry, touched, useGeometry } from './use-geometry.ts';

/** Fork, cantle and seat as soft shapes, so that two bars read as a tree. */
export function Ghost({ tree, palette }: { tree: TreeView; palette: ScenePalette }) {
  const { fork, cantle, seat } = tree.surfaces;
  return (
    <group>
      <Soft surface={seat} palette={palette} opacity={0.13} />
      <Soft surface={fork} palette={palette} opacity={0.3} />
      <Soft surface={cantle} palette={palette} opacity={0.3} />
    </group>
  );
}

function Soft({ surface, palette, opacity }: { surface: GhostSurface; palette: ScenePalette; opacity: number }) {
  const { invalidate } = useThree();
  const geometry = useGeometry(`${surface.rows} ${surface.columns}`, () =>
    dynamicGeometry(
      { position: [new Float32Array(surface.positions.length), 3] },
      gridTriangles(surface.rows, surface.columns),
    ),
  );
  useLayoutEffect(() => {
    arrayOf(geometry, 'position').set(surface.positions);
    geometry.computeVertexNormals();
    touched(geometry, 'position', 'normal');
    invalidate();
  }, [geometry, surface, invalidate]);
  return (
    <mesh geometry={geometry} renderOrder={4} frustumCulled={false}>
      <meshStandardMaterial
        color={palette.ghost}
        roughness={1}
        metalness={0}
        side={DoubleSide}
        transparent
        opacity={opacity}
        depthWrite={false}
      />
    </mesh>
  );
}
