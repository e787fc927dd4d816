import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { Plane, Vector3 } from 'three';

/** The marker's own plane and line stay in the picture. */
const BESIDE_MM = 0.6;

/** Cuts away what lies between the station marker and the eye: the half beyond the marker is left. */
export function SectionPlane({ xMm, isCut }: { xMm: number; isCut: boolean }) {
  const { gl, invalidate } = useThree();
  const plane = useMemo(() => new Plane(new Vector3(1, 0, 0), 0), []);
  useEffect(() => {
    gl.clippingPlanes = isCut ? [plane] : [];
    invalidate();
    return () => {
      gl.clippingPlanes = [];
    };
  }, [gl, plane, isCut, invalidate]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the picture is drawn anew where the marker stands
  useEffect(() => invalidate(), [xMm, invalidate]);
  useFrame(({ camera }) => {
    const kept = camera.position.x < xMm ? 1 : -1;
    plane.normal.set(kept, 0, 0);
    plane.constant = -kept * xMm + BESIDE_MM;
  });
  return null;
}
