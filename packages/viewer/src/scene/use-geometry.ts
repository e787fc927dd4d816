import { useEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, DynamicDrawUsage } from 'three';

/** A geometry made when its key changes and let go of with it; its arrays are written in place. */
export function useGeometry(key: string, make: () => BufferGeometry): BufferGeometry {
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says when to make it anew
  const geometry = useMemo(make, [key]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  return geometry;
}

/** Arrays as a geometry whose positions will be written again and again. */
export function dynamicGeometry(
  attributes: Readonly<Record<string, readonly [Float32Array, number]>>,
  triangles: Uint32Array | null,
): BufferGeometry {
  const geometry = new BufferGeometry();
  for (const [name, [array, size]] of Object.entries(attributes))
    geometry.setAttribute(name, new BufferAttribute(array, size).setUsage(DynamicDrawUsage));
  if (triangles !== null) geometry.setIndex(new BufferAttribute(triangles, 1));
  return geometry;
}

export const arrayOf = (geometry: BufferGeometry, name: string): Float32Array =>
  geometry.getAttribute(name).array as Float32Array;

/** Says that arrays were written. What changes this way is drawn without culling, so its bounds are never asked for. */
export function touched(geometry: BufferGeometry, ...names: string[]): void {
  for (const name of names) geometry.getAttribute(name).needsUpdate = true;
}
