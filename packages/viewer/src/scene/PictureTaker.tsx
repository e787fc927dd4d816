import { useThree } from '@react-three/fiber';
import { useEffect } from 'react';
import { Vector2 } from 'three';
import { offerTaker } from './picture-taker.ts';

/** Draws the scene once at print size with the same shape and eye, and hands back a copy of the pixels. */
export function PictureTaker() {
  const { gl, scene, camera, size, invalidate } = useThree();
  useEffect(
    () =>
      offerTaker((widthPx) => {
        const heightPx = Math.round((widthPx * size.height) / size.width);
        const ratio = gl.getPixelRatio();
        const before = gl.getSize(new Vector2());
        const copy = document.createElement('canvas');
        copy.width = widthPx;
        copy.height = heightPx;
        try {
          gl.setPixelRatio(1);
          gl.setSize(widthPx, heightPx, false);
          gl.render(scene, camera);
          copy.getContext('2d')!.drawImage(gl.domElement, 0, 0);
        } finally {
          gl.setPixelRatio(ratio);
          gl.setSize(before.x, before.y, false);
          invalidate();
        }
        return copy;
      }),
    [gl, scene, camera, size, invalidate],
  );
  return null;
}
