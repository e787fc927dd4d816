import { Canvas } from '@react-three/fiber';
import type { ReactNode } from 'react';
import type { ScenePalette } from './palette.ts';

/** `?test` in the address: half the pixels and no smoothing of edges, so that drawing in software keeps up with a test's hand. */
const IS_TEST = new URLSearchParams(window.location.search).has('test');
const DPR: number | [number, number] = IS_TEST ? 0.5 : [1, 2];
const GL = Object.freeze({ antialias: !IS_TEST, preserveDrawingBuffer: IS_TEST });

/** The one canvas, camera and daylight of every three-dimensional picture. Draws only when something changed. */
export function Studio({ palette, children }: { palette: ScenePalette; children: ReactNode }) {
  return (
    <Canvas
      flat
      frameloop="demand"
      dpr={DPR}
      gl={GL}
      camera={{ fov: 26, near: 10, far: 9000, position: [-900, -1200, 900], up: [0, 0, 1] }}
    >
      <color attach="background" args={[palette.ground]} />
      <hemisphereLight args={['#fffaf0', '#8d8478', 1.5]} position={[0, 0, 1]} />
      <directionalLight color="#fff4e2" intensity={1.9} position={[-700, -900, 800]} />
      {children}
    </Canvas>
  );
}
