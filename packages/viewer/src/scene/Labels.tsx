import { useFrame, useThree } from '@react-three/fiber';
import { type RefObject, useLayoutEffect } from 'react';
import { Vector3 } from 'three';

export interface Label {
  readonly id: string;
  readonly text: string;
  readonly at: readonly [number, number, number];
  /** Words only, no mark. */
  readonly isBare?: boolean;
}

const place = new Vector3();

/** Small marks in the scene, and the words beside them moved with every frame that is drawn. */
export function LabelMarks({
  labels,
  holder,
  colour,
}: {
  labels: readonly Label[];
  holder: RefObject<HTMLDivElement | null>;
  colour: string;
}) {
  const { camera, size, invalidate } = useThree();
  // biome-ignore lint/correctness/useExhaustiveDependencies: new labels have to be placed by a new frame
  useLayoutEffect(() => invalidate(), [labels, invalidate]);
  useFrame(() => {
    const words = holder.current?.children;
    if (words === undefined) return;
    labels.forEach(({ at }, i) => {
      const word = words[i] as HTMLElement | undefined;
      if (word === undefined) return;
      place.set(...at).project(camera);
      const x = ((place.x + 1) / 2) * size.width;
      const y = ((1 - place.y) / 2) * size.height;
      const seen = place.z < 1 && x > 4 && y > 4 && x < size.width - 4 && y < size.height - 4;
      word.style.visibility = seen ? 'visible' : 'hidden';
      word.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
    });
  });
  return (
    <group>
      {labels
        .filter(({ isBare }) => isBare !== true)
        .map(({ id, at }) => (
          <mesh key={id} position={[at[0], at[1], at[2]]} renderOrder={8}>
            <sphereGeometry args={[4, 16, 12]} />
            <meshBasicMaterial color={colour} depthTest={false} transparent />
          </mesh>
        ))}
    </group>
  );
}
