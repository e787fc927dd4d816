import { useThree } from '@react-three/fiber';
import { useEffect, useRef } from 'react';
import { Raycaster, Vector2 } from 'three';
import type { BackView, BarView } from '../contract.ts';
import { type ProbePlace, placeUnder } from './build/probe.ts';
import { pointAt } from './probe-store.ts';

export interface PointerProbeProps {
  /** As they are drawn: bending exaggerated, where it is. */
  readonly bars: { readonly left: BarView; readonly right: BarView } | null;
  readonly back: Pick<BackView, 'positions' | 'triangles'> | null;
  /** A press without a drag. */
  readonly onPick: (place: ProbePlace) => void;
}

const STILL_PX = 4;

/** Reads what lies under the pointer, once a frame at most and not while the picture is being turned. */
export function PointerProbe(props: PointerProbeProps) {
  const { camera, gl } = useThree();
  const latest = useRef(props);
  latest.current = props;
  useEffect(() => {
    const canvas = gl.domElement;
    const caster = new Raycaster();
    let frame = 0;
    let down: { x: number; y: number } | null = null;
    const placeAt = (event: PointerEvent): ProbePlace | null => {
      const box = canvas.getBoundingClientRect();
      const x = (2 * (event.clientX - box.left)) / box.width - 1;
      const y = 1 - (2 * (event.clientY - box.top)) / box.height;
      caster.setFromCamera(new Vector2(x, y), camera);
      const { origin: o, direction: d } = caster.ray;
      return placeUnder(
        { origin: [o.x, o.y, o.z], towards: [d.x, d.y, d.z] },
        latest.current.bars,
        latest.current.back,
      );
    };
    const moved = (event: PointerEvent): void => {
      cancelAnimationFrame(frame);
      if (event.buttons !== 0) return;
      frame = requestAnimationFrame(() => pointAt(placeAt(event)));
    };
    const pressed = (event: PointerEvent): void => {
      down = { x: event.clientX, y: event.clientY };
    };
    const released = (event: PointerEvent): void => {
      if (down === null || Math.hypot(event.clientX - down.x, event.clientY - down.y) > STILL_PX) return;
      const place = placeAt(event);
      pointAt(place);
      if (place !== null) latest.current.onPick(place);
    };
    canvas.addEventListener('pointermove', moved);
    canvas.addEventListener('pointerdown', pressed);
    canvas.addEventListener('pointerup', released);
    return () => {
      cancelAnimationFrame(frame);
      canvas.removeEventListener('pointermove', moved);
      canvas.removeEventListener('pointerdown', pressed);
      canvas.removeEventListener('pointerup', released);
    };
  }, [camera, gl]);
  return null;
}
