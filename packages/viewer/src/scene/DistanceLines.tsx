import { useThree } from '@react-three/fiber';
import { useLayoutEffect } from 'react';
import { useMeasuring } from './measure-store.ts';
import { arrayOf, dynamicGeometry, touched, useGeometry } from './use-geometry.ts';

const MOST = 100;

/** Measured distances as lines, and the first point of the next one. */
export function DistanceLines({ colour }: { colour: string }) {
  const { invalidate } = useThree();
  const { from, distances } = useMeasuring();
  const lines = useGeometry('', () => dynamicGeometry({ position: [new Float32Array(6 * MOST), 3] }, null));
  // biome-ignore lint/correctness/useExhaustiveDependencies: a first point is drawn too
  useLayoutEffect(() => {
    const shown = distances.slice(-MOST);
    shown.forEach((distance, i) => {
      arrayOf(lines, 'position').set([...distance.from, ...distance.to], 6 * i);
    });
    lines.setDrawRange(0, 2 * shown.length);
    touched(lines, 'position');
    invalidate();
  }, [distances, from, lines, invalidate]);
  const ends = [...distances.flatMap((distance) => [distance.from, distance.to]), ...(from === null ? [] : [from])];
  return (
    <group>
      <lineSegments geometry={lines} frustumCulled={false} renderOrder={9}>
        <lineBasicMaterial color={colour} depthTest={false} transparent />
      </lineSegments>
      {ends.map(([x, y, z]) => (
        <mesh key={`${x} ${y} ${z}`} position={[x, y, z]} renderOrder={9}>
          <sphereGeometry args={[2.5, 12, 8]} />
          <meshBasicMaterial color={colour} depthTest={false} transparent />
        </mesh>
      ))}
    </group>
  );
}
