import { Canvas } from '@react-three/fiber';
import { createRoot } from 'react-dom/client';

/** A net of as many triangles as the bench draws at first: back, both bars and the ghost. */
const ROWS = 200;
const positions = new Float32Array(3 * ROWS * ROWS);
const index = new Uint32Array(6 * (ROWS - 1) * (ROWS - 1));
for (let i = 0; i < ROWS; i++) {
  for (let j = 0; j < ROWS; j++) {
    positions.set([i / ROWS - 0.5, j / ROWS - 0.5, 0.1 * Math.sin(i / 20)], 3 * (i * ROWS + j));
    if (i + 1 === ROWS || j + 1 === ROWS) continue;
    const a = i * ROWS + j;
    index.set([a, a + ROWS, a + 1, a + 1, a + ROWS, a + ROWS + 1], 6 * (i * (ROWS - 1) + j));
  }
}

createRoot(document.getElementById('bare')!).render(
  <Canvas
    frameloop="demand"
    gl={{ antialias: false }}
    dpr={1}
    onCreated={() => document.body.setAttribute('data-drawn', '')}
  >
    <ambientLight />
    <directionalLight position={[1, 1, 2]} />
    <mesh>
      <bufferGeometry onUpdate={(g) => g.computeVertexNormals()}>
        <bufferAttribute attach="attributes-position" args={[positions, 3]} />
        <bufferAttribute attach="index" args={[index, 1]} />
      </bufferGeometry>
      <meshStandardMaterial side={2} />
    </mesh>
  </Canvas>,
);
