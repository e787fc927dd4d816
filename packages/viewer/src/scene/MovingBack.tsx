import { useThree } from '@react-three/fiber';
import { memo, useLayoutEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, Color } from 'three';
import type { BackView } from '../contract.ts';
import { Skirt } from './Back.tsx';
import { Clay } from './Clay.tsx';
import type { ScenePalette } from './palette.ts';
import type { ShownBack } from './shown-store.ts';
import { arrayOf, dynamicGeometry, touched, useGeometry } from './use-geometry.ts';

const MOST_EDGE_POINTS = 64;

export interface MovingBackProps {
  readonly back: BackView;
  readonly moved: ShownBack;
  readonly palette: ScenePalette;
  readonly ghosted: boolean;
}

/** A back whose vertices go with a study, the blades' patches tinted and their rear edges drawn. Arrays are put in place. */
export const MovingBack = memo(function MovingBack({ back, moved, palette, ghosted }: MovingBackProps) {
  const { invalidate } = useThree();
  const count = moved.positions.length;
  const surface = useGeometry(`${back.version} ${back.name} ${count} ${back.triangles.length}`, () => {
    const geometry = new BufferGeometry();
    for (const name of ['position', 'normal', 'color'])
      geometry.setAttribute(name, new BufferAttribute(new Float32Array(count), 3));
    geometry.setIndex(new BufferAttribute(back.triangles, 1));
    return geometry;
  });
  const edges = useGeometry('edges', () =>
    dynamicGeometry({ position: [new Float32Array(12 * MOST_EDGE_POINTS), 3] }, null),
  );
  const tints = useMemo(() => [new Color(palette.clay), new Color(palette.patch)] as const, [palette]);

  useLayoutEffect(() => {
    arrayOf(surface, 'position').set(moved.positions);
    arrayOf(surface, 'normal').set(moved.normals);
    tint(moved.patchMm, tints, arrayOf(surface, 'color'));
    touched(surface, 'position', 'normal', 'color');
    const line = arrayOf(edges, 'position');
    let at = 0;
    for (const points of moved.bladeEdges) at = addSegments(points, line, at);
    edges.setDrawRange(0, at / 3);
    touched(edges, 'position');
    invalidate();
  }, [moved, surface, edges, tints, invalidate]);

  return (
    <group>
      <mesh geometry={surface} renderOrder={ghosted ? 6 : 0} frustumCulled={false}>
        <Clay ghosted={ghosted} />
      </mesh>
      {back.kind === 'sections' && !ghosted && <Skirt back={back} palette={palette} />}
      <lineSegments geometry={edges} renderOrder={7} frustumCulled={false}>
        <lineBasicMaterial color={palette.ink} />
      </lineSegments>
    </group>
  );
});

/** Full tint where the patch has its whole height. */
function tint(patchMm: Float32Array, [clay, patch]: readonly [Color, Color], out: Float32Array): void {
  let highest = 0;
  for (const height of patchMm) if (height > highest) highest = height;
  for (let i = 0; i < patchMm.length; i++) {
    const share = highest > 0 && patchMm[i]! > 0 ? patchMm[i]! / highest : 0;
    out[3 * i] = clay.r + share * (patch.r - clay.r);
    out[3 * i + 1] = clay.g + share * (patch.g - clay.g);
    out[3 * i + 2] = clay.b + share * (patch.b - clay.b);
  }
}

function addSegments(points: Float32Array, out: Float32Array, from: number): number {
  let at = from;
  for (let k = 0; k + 6 <= points.length && at + 6 <= out.length; k += 3) {
    out.set(points.subarray(k, k + 6), at);
    at += 6;
  }
  return at;
}
