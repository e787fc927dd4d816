import { useThree } from '@react-three/fiber';
import { useEffect, useRef } from 'react';
import { type PerspectiveCamera, Vector3 } from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';
import type { ViewFrom } from '../state/view-state.ts';
import { offerHand } from './camera-store.ts';

/** Where the camera stands for each view, as a direction from the middle of the bars. Head to the left wherever that can be. */
const STANDS: Readonly<Record<ViewFrom, readonly [number, number, number]>> = {
  left: [0, -1, 0.06],
  right: [0, 1, 0.06],
  above: [0, -0.02, 1],
  below: [0, -0.02, -1],
  'three-quarter': [-0.5, -0.88, 0.62],
};

const TURN_MS = 320;
/** Share of the picture that the box may fill; its corners are empty air when it is seen from one of them. */
const FILL = 0.84;
const FILL_FROM_CORNER = 1.16;
/** From a corner the bars come first: the fork may reach out at the top. */
const TOP_FROM_CORNER_MM = 120;

export interface Box {
  readonly min: readonly [number, number, number];
  readonly max: readonly [number, number, number];
}

export interface OrbitProps {
  readonly from: ViewFrom;
  /** Counts up when the same view is asked for again. */
  readonly asked: number;
  /** What has to be in the picture, horse frame, mm. */
  readonly box: Box;
  readonly still: boolean;
  /** Told when the camera goes under the back or comes up again. */
  readonly onUnder: (isUnder: boolean) => void;
}

/** Turn, move and zoom by hand; words on buttons turn it to the views a maker knows. */
export function Orbit({ from, asked, box, still, onUnder }: OrbitProps) {
  const { camera, gl, invalidate, size } = useThree();
  const controls = useRef<OrbitControls | null>(null);
  /** Turned by hand since the last view was asked for: a change of the picture's size then leaves the camera alone. */
  const byHand = useRef(false);
  const shown = useRef('');
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
    orbit.addEventListener('start', () => {
      byHand.current = true;
    });
    controls.current = orbit;
    return () => orbit.dispose();
  }, [camera, gl, invalidate]);

  useEffect(
    () =>
      offerHand({
        whereIs: () => ({
          position: camera.position.toArray(),
          target: (controls.current?.target ?? new Vector3()).toArray(),
        }),
        goTo: ({ position, target }) => {
          const orbit = controls.current;
          if (orbit === null) return;
          byHand.current = true;
          turnTo(orbit, { position: new Vector3(...position), target: new Vector3(...target) }, still ? 0 : TURN_MS);
        },
      }),
    [camera, still],
  );

  const place = useRef(box);
  place.current = box;

  // biome-ignore lint/correctness/useExhaustiveDependencies: asking again for the same view counts as a change
  useEffect(() => {
    const orbit = controls.current;
    if (orbit === null) return;
    const view = `${from} ${asked}`;
    if (byHand.current && shown.current === view) return;
    byHand.current = false;
    shown.current = view;
    const stand = standAt(from, place.current, camera as PerspectiveCamera, size);
    return turnTo(orbit, stand, still ? 0 : TURN_MS);
  }, [from, asked, still, camera, size.width, size.height]);

  return null;
}

interface Stand {
  readonly position: Vector3;
  readonly target: Vector3;
}

/** Far enough away that every corner of the box is in the picture. */
function standAt(from: ViewFrom, box: Box, camera: PerspectiveCamera, size: { width: number; height: number }): Stand {
  const max = new Vector3(...box.max);
  if (from === 'three-quarter') max.z = Math.min(max.z, TOP_FROM_CORNER_MM);
  const min = new Vector3(...box.min);
  const target = min.clone().add(max).multiplyScalar(0.5);
  const towards = new Vector3(...STANDS[from]).normalize();
  const across = new Vector3(0, 0, 1).cross(towards).normalize();
  const upward = towards.clone().cross(across);
  const tall = Math.tan((camera.fov * Math.PI) / 360) * (from === 'three-quarter' ? FILL_FROM_CORNER : FILL);
  const wide = tall * (size.width / Math.max(1, size.height));
  let distance = 0;
  for (let k = 0; k < 8; k++) {
    const corner = new Vector3((k & 1 ? max : min).x, (k & 2 ? max : min).y, (k & 4 ? max : min).z).sub(target);
    const near = corner.dot(towards);
    distance = Math.max(
      distance,
      near + Math.abs(corner.dot(across)) / wide,
      near + Math.abs(corner.dot(upward)) / tall,
    );
  }
  return { target, position: towards.multiplyScalar(distance).add(target) };
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
