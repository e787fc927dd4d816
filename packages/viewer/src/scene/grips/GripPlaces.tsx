import { useFrame, useThree } from '@react-three/fiber';
import { useLayoutEffect } from 'react';
import { Vector3 } from 'three';
import type { GripHand } from './grip-store.ts';
import { LEAST_PX_PER_MM, type OnPage } from './grips-of.ts';

const place = new Vector3();

/** Tells with every frame where the grips are on the page, and moves their knobs there. */
export function GripPlaces({ hand }: { hand: GripHand }) {
  const { camera, size, invalidate } = useThree();
  // biome-ignore lint/correctness/useExhaustiveDependencies: new grips have to be placed by a new frame
  useLayoutEffect(() => invalidate(), [hand.grips, invalidate]);
  useFrame(() => {
    const project = (x: number, y: number, z: number): readonly [number, number, number] => {
      place.set(x, y, z).project(camera);
      return [((place.x + 1) / 2) * size.width, ((1 - place.y) / 2) * size.height, place.z];
    };
    hand.grips.forEach(({ name, at, along }) => {
      const [x, y, depth] = project(...at);
      const [x1, y1] = project(at[0] + along[0], at[1] + along[1], at[2] + along[2]);
      const onPage: OnPage = { x, y, perMm: [x1 - x, y1 - y] };
      const isInside = depth < 1 && x > 8 && y > 8 && x < size.width - 8 && y < size.height - 8;
      hand.place(name, isInside && Math.hypot(...onPage.perMm) > LEAST_PX_PER_MM ? onPage : null);
    });
  });
  return null;
}
