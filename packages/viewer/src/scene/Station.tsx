import { useThree } from '@react-three/fiber';
import { useLayoutEffect } from 'react';
import { DoubleSide } from 'three';
import type { BackView } from '../contract.ts';
import { planeCut } from './build/plane-cut.ts';
import { STATION_TOP_MM } from './labels-of.ts';
import type { ScenePalette } from './palette.ts';
import { arrayOf, dynamicGeometry, touched, useGeometry } from './use-geometry.ts';

const MOST_SEGMENTS = 2000;
const HALF_WIDTH_MM = 215;
const LOW_MM = -100;
const HIGH_MM = STATION_TOP_MM;

/** The marker's plane, and the line in which it cuts the back. */
export function Station({ xMm, back, palette }: { xMm: number; back: BackView | null; palette: ScenePalette }) {
  const { invalidate } = useThree();
  const line = useGeometry('', () => dynamicGeometry({ position: [new Float32Array(6 * MOST_SEGMENTS), 3] }, null));
  const frame = useGeometry('frame', () => dynamicGeometry({ position: [FRAME, 3] }, null));
  useLayoutEffect(() => {
    const count = back === null ? 0 : planeCut(back.positions, back.triangles, xMm, arrayOf(line, 'position'));
    line.setDrawRange(0, 2 * count);
    touched(line, 'position');
    invalidate();
  }, [xMm, back, line, invalidate]);
  const middle = (LOW_MM + HIGH_MM) / 2;
  return (
    <group>
      <lineSegments geometry={line} frustumCulled={false} renderOrder={7}>
        <lineBasicMaterial color={palette.accent} depthTest={false} transparent />
      </lineSegments>
      <group position={[xMm, 0, 0]}>
        <mesh position={[0, 0, middle]} rotation={[Math.PI / 2, Math.PI / 2, 0]} renderOrder={5}>
          <planeGeometry args={[2 * HALF_WIDTH_MM, HIGH_MM - LOW_MM]} />
          <meshBasicMaterial color={palette.accent} transparent opacity={0.07} depthWrite={false} side={DoubleSide} />
        </mesh>
        <lineLoop geometry={frame} renderOrder={7}>
          <lineBasicMaterial color={palette.accent} transparent opacity={0.7} />
        </lineLoop>
      </group>
    </group>
  );
}

const FRAME = Float32Array.from(
  [
    [0, -HALF_WIDTH_MM, LOW_MM],
    [0, HALF_WIDTH_MM, LOW_MM],
    [0, HALF_WIDTH_MM, HIGH_MM],
    [0, -HALF_WIDTH_MM, HIGH_MM],
  ].flat(),
);
