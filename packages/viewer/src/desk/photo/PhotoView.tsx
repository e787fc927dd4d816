import { type KeyboardEvent, type ReactNode, useEffect, useRef, useState } from 'react';
import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { Loupe } from './Loupe.tsx';
import type { Photo, Px } from './photo-work.ts';
import { useViewBox } from './use-view-box.ts';
import { toPhoto, toScreen } from './view-box.ts';

const T = PHOTO_TEXTS.view;

export interface OverPhoto {
  readonly screen: (at: Px) => Px;
  readonly scale: number;
  readonly hold: (held: Px | null) => void;
}

export interface PhotoViewProps {
  readonly photo: Photo;
  readonly bitmap: ImageBitmap;
  /** A click on the photo, or Enter at the cross; `reachPx` is ten screen pixels in pixels of the photo. */
  readonly onClick: (at: Px, reachPx: number) => void;
  readonly clickSays: string;
  /** Is told which pixel lies in the view's middle. */
  readonly middle: { current: Px };
  readonly children: (over: OverPhoto) => ReactNode;
}

const REACH = 10;

/** The photo, panned and zoomed, with handles drawn over it and a loupe while one of them is held. */
export function PhotoView({ photo, bitmap, onClick, clickSays, middle, children }: PhotoViewProps) {
  const frame = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const size = { width: photo.widthPx, height: photo.heightPx };
  const viewing = useViewBox(frame, size, (at, px) => onClick(at, REACH * px));
  const { box, view } = viewing;
  const [held, setHeld] = useState<Px | null>(null);
  useEffect(() => {
    middle.current = box.middle;
    draw(canvas.current, bitmap, viewing);
  });
  const pressed = (event: KeyboardEvent): void => {
    if (event.target !== event.currentTarget || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === 'Enter') onClick(toPhoto(box, view, [view.width / 2, view.height / 2]), REACH / box.scale);
    else if (!viewing.pressed(event.key, event.shiftKey)) return;
    event.preventDefault();
  };
  const screen = (at: Px): Px => toScreen(box, view, at);
  return (
    <div className="photo-view">
      <div className="photo-frame" ref={frame}>
        <canvas ref={canvas} />
        {/* biome-ignore lint/a11y/useSemanticElements: a picture that is worked on by keys, with controls in it */}
        <svg
          className="photo-over"
          role="group"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys and Enter work on the picture itself
          tabIndex={0}
          aria-label={T.label(photo.name, clickSays)}
          width={view.width}
          height={view.height}
          onKeyDown={pressed}
          {...viewing.pointer}
        >
          {children({ screen, scale: box.scale, hold: setHeld })}
          <path
            className="aim"
            transform={`translate(${view.width / 2} ${view.height / 2})`}
            d="M-14 0H-4M4 0H14M0 -14V-4M0 4V14"
          />
        </svg>
        {held !== null && (
          <Loupe bitmap={bitmap} at={held} screen={screen(held)} viewWidth={view.width} viewScale={box.scale} />
        )}
      </div>
      <div className="photo-tools">
        <button type="button" onClick={() => viewing.zoom(1.4)}>
          {T.closer}
        </button>
        <button type="button" onClick={() => viewing.zoom(1 / 1.4)}>
          {T.further}
        </button>
        <button type="button" onClick={viewing.fit}>
          {T.whole}
        </button>
        <p className="small soft">{pixelsSaid(photo)}</p>
      </div>
    </div>
  );
}

function pixelsSaid({ widthPx, heightPx, fullWidthPx, fullHeightPx }: Photo): string {
  const used = T.pixels(widthPx, heightPx);
  return widthPx === fullWidthPx ? used : T.ofPixels(used, fullWidthPx, fullHeightPx);
}

function draw(
  canvas: HTMLCanvasElement | null,
  bitmap: ImageBitmap,
  { box, view }: ReturnType<typeof useViewBox>,
): void {
  const pen = canvas?.getContext('2d') ?? null;
  if (canvas === null || pen === null) return;
  const dots = window.devicePixelRatio || 1;
  const [width, height] = [Math.round(view.width * dots), Math.round(view.height * dots)];
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
  pen.setTransform(1, 0, 0, 1, 0, 0);
  pen.clearRect(0, 0, width, height);
  const scale = box.scale * dots;
  pen.imageSmoothingEnabled = box.scale < 3;
  pen.imageSmoothingQuality = 'high';
  const [left, top] = toScreen(box, view, [0, 0]);
  pen.setTransform(scale, 0, 0, scale, left * dots, top * dots);
  pen.drawImage(bitmap, 0, 0);
}
