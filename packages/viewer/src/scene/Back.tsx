import { memo, useMemo } from 'react';
import { BufferAttribute, BufferGeometry } from 'three';
import type { BackView } from '../contract.ts';
import { buildSkirt } from './build/skirt.ts';
import { Clay } from './Clay.tsx';
import type { ScenePalette } from './palette.ts';
import { useGeometry } from './use-geometry.ts';

const FLOOR_BELOW_MM = 24;

export interface BackProps {
  readonly back: BackView;
  readonly palette: ScenePalette;
  readonly ghosted: boolean;
}

/** The back as a cast in matt clay; seen from under it thins to a ghost, so that the undersides show. */
export const Back = memo(function Back({ back, palette, ghosted }: BackProps) {
  const key = `${back.version} ${back.name}`;
  const surface = useGeometry(key, () => {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(back.positions, 3));
    geometry.setAttribute('normal', new BufferAttribute(back.normals, 3));
    geometry.setIndex(new BufferAttribute(back.triangles, 1));
    return geometry;
  });
  return (
    <group>
      <mesh geometry={surface} renderOrder={ghosted ? 6 : 0}>
        <Clay colour={palette.clay} ghosted={ghosted} />
      </mesh>
      {back.kind === 'sections' && !ghosted && <Skirt back={back} palette={palette} />}
    </group>
  );
});

/** What closes a drawn back down to a level floor, so that it reads as a cast. */
export function Skirt({ back, palette }: { back: BackView; palette: ScenePalette }) {
  const key = `${back.version} ${back.name}`;
  const skirtParts = useMemo(() => {
    let low = Number.POSITIVE_INFINITY;
    for (let i = 2; i < back.positions.length; i += 3) low = Math.min(low, back.positions[i]!);
    return buildSkirt(back.positions, back.triangles, low - FLOOR_BELOW_MM);
  }, [back]);
  const skirt = useGeometry(key, () => {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(skirtParts.positions, 3));
    geometry.setIndex(new BufferAttribute(skirtParts.triangles, 1));
    geometry.computeVertexNormals();
    return geometry;
  });
  return (
    <mesh geometry={skirt}>
      <Clay colour={palette.clayDeep} />
    </mesh>
  );
}
