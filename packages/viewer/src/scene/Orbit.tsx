import { useThree } from '@react-three/fiber';
import { useEffect, useRef } from 'react';
import { type PerspectiveCamera, Vector3 } from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';
import type { ViewFrom } from '../state/view-state.ts';

/** Where the camera stands for each view, as a direction from the middle of the bars. Head to the left wherever that can be. */
const STANDS: Readonly<Record<ViewFrom, readonly [number, number, number]>> = {
  left: [0, -1, 0.06],
  right: [0, 1, 0.06],
  above: [0, -0.02, 1],
  below: [0, -0.02, -1],
  'three-quarter': [-0.62, -0.86, 0.72],
};

const TURN_MS = 320;

export interface OrbitProps {
  readonly from: ViewFrom;
  /** Counts up when the same view is asked for again. */
  readonly asked: number;
  readonly centre: readonly [number, number, number];
  readonly radiusMm: number;
  readonly still: boolean;
  /** Told when the camera goes under the back or comes up again. */
  readonly onUnder: (isUnder: boolean) => void;
}

/** Turn, move and zoom by hand; words on buttons turn it to the views a maker knows. */
export function Orbit({ from, asked, centre, radiusMm, still, onUnder }: OrbitProps) {
  const { camera, gl, invalidate, size } = useThree();
  const controls = useRef<OrbitControls | null>(null);
  const under = useRef(onUnder);
  under.current = onUnder;

  useEffect(() => {
    const orbit = new OrbitControls(camera, gl.domElement);
    orbit.minDistance = 120;
    orbit.maxDistance = 6000;
    const changed = (): void => {
      under.current(camera.position.z < orbit.target.z);
      invalidate();
    };
    orbit.addEventListener('change', changed);
    controls.current = orbit;
    return () => orbit.dispose();
  }, [camera, gl, invalidate]);

  const place = useRef({ centre, radiusMm });
  place.current = { centre, radiusMm };

  // biome-ignore lint/correctness/useExhaustiveDependencies: asking again for the same view counts as a change
  useEffect(() => {
    const orbit = controls.current;
    if (orbit === null) return;
    const stand = standAt(from, place.current.centre, place.current.radiusMm, camera as PerspectiveCamera, size);
    return turnTo(orbit, stand, still ? 0 : TURN_MS);
  }, [from, asked, still, camera, size.width, size.height]);

  return null;
}

interface Stand {
  readonly position: Vector3;
  readonly target: Vector3;
}

function standAt(
  from: ViewFrom,
  centre: readonly [number, number, number],
  radiusMm: number,
  camera: PerspectiveCamera,
  size: { width: number; height: number },
): Stand {
  const target = new Vector3(...centre);
  const half = (camera.fov * Math.PI) / 360;
  const halfAcross = Math.atan(Math.tan(half) * (size.width / Math.max(1, size.height)));
  // The bars are long and low: across the picture they need their whole radius, up and down rather less.
  const share = from === 'above' || from === 'below' ? 0.62 : from === 'three-quarter' ? 0.66 : 0.46;
  const distance = Math.max(radiusMm / Math.tan(halfAcross), (share * radiusMm) / Math.tan(half));
  return { target, position: new Vector3(...STANDS[from]).normalize().multiplyScalar(distance).add(target) };
}

/** Swings the camera over; under reduced motion and in tests it is there at once. */
function turnTo(orbit: OrbitControls, stand: Stand, lastsMs: number): () => void {
  const startedAt = performance.now();
  const target = orbit.target.clone();
  const offset = orbit.object.position.clone().sub(target);
  const wanted = stand.position.clone().sub(stand.target);
  let frame = 0;
  const calm = lastsMs === 0 || window.matchMedia('(prefers-reduced-motion: reduce)').matches;
  const step = (): void => {
    const time = calm ? 1 : Math.min(1, (performance.now() - startedAt) / lastsMs);
    const eased = time * time * (3 - 2 * time);
    orbit.target.lerpVectors(target, stand.target, eased);
    const turned = offset.clone().lerp(wanted, eased);
    turned.setLength(offset.length() + (wanted.length() - offset.length()) * eased);
    orbit.object.position.copy(orbit.target).add(turned);
    orbit.update();
    if (time < 1) frame = requestAnimationFrame(step);
  };
  step();
  return () => cancelAnimationFrame(frame);
}
