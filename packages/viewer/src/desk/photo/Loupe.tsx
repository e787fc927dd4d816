import { useEffect, useRef } from 'react';
import type { Px } from './photo-work.ts';

const SIZE_PX = 132;
/** Screen pixels to a pixel of the photo, at least four times what the view shows. */
const LEAST_ZOOM = 4;

export interface LoupeProps {
  readonly bitmap: ImageBitmap;
  readonly at: Px;
  /** Where on the screen the handle is held: the loupe keeps out of the finger's way. */
  readonly screen: Px;
  readonly viewWidth: number;
  readonly viewScale: number;
}

/** The photo's pixels under a handle, magnified, with the exact place at the cross. */
export function Loupe({ bitmap, at, screen, viewWidth, viewScale }: LoupeProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const pen = canvas.current?.getContext('2d') ?? null;
    if (pen === null) return;
    const zoom = Math.max(LEAST_ZOOM, 4 * viewScale);
    pen.imageSmoothingEnabled = false;
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, SIZE_PX, SIZE_PX);
    pen.setTransform(zoom, 0, 0, zoom, SIZE_PX / 2 - at[0] * zoom, SIZE_PX / 2 - at[1] * zoom);
    pen.drawImage(bitmap, 0, 0);
  });
  const isLeft = screen[0] < viewWidth / 2;
  return (
    <div className={isLeft ? 'photo-loupe right' : 'photo-loupe left'} aria-hidden="true">
      <canvas ref={canvas} width={SIZE_PX} height={SIZE_PX} />
    </div>
  );
}
