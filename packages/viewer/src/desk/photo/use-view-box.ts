import { type PointerEvent, type RefObject, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { Px } from './photo-work.ts';
import { fitBox, movedBox, type Size, toPhoto, type ViewBox, zoomedBox } from './view-box.ts';

/** A pointer that moves less than this, in screen pixels, has clicked. */
const CLICK_PX = 5;
const ZOOM_STEP = 1.4;
const KEY_MOVE_PX = 40;

export interface Viewing {
  readonly box: ViewBox;
  readonly view: Size;
  readonly zoom: (factor: number) => void;
  readonly fit: () => void;
  readonly goTo: (at: Px) => void;
  readonly pressed: (key: string, isFine: boolean) => boolean;
  readonly pointer: {
    onPointerDown(event: PointerEvent<Element>): void;
    onPointerMove(event: PointerEvent<Element>): void;
    onPointerUp(event: PointerEvent<Element>): void;
    onPointerCancel(event: PointerEvent<Element>): void;
  };
}

/** Pan and zoom by drag, wheel, pinch, buttons and keys; what is neither is a click on the photo. */
export function useViewBox(
  frame: RefObject<HTMLElement | null>,
  photo: Size,
  onClick: (at: Px, pxPerScreenPx: number) => void,
): Viewing {
  const view = useSize(frame);
  const [held, setHeld] = useState<ViewBox | null>(null);
  const box = held ?? fitBox(photo, view);
  const change = (to: (box: ViewBox) => ViewBox): void => setHeld((now) => to(now ?? fitBox(photo, view)));
  const about = (factor: number, at: Px): void => change((now) => zoomedBox(now, photo, view, factor, at));
  useWheel(frame, about);
  const down = useRef(new Map<number, Px>());
  const start = useRef<{ at: Px; hasMoved: boolean } | null>(null);

  const place = (event: PointerEvent<Element>): Px => {
    const rect = frame.current!.getBoundingClientRect();
    return [event.clientX - rect.left, event.clientY - rect.top];
  };
  const move = (event: PointerEvent<Element>): void => {
    const before = down.current.get(event.pointerId);
    if (before === undefined || start.current === null) return;
    const at = place(event);
    const far = Math.hypot(at[0] - start.current.at[0], at[1] - start.current.at[1]) > CLICK_PX;
    if (!start.current.hasMoved && !far && down.current.size === 1) return;
    start.current.hasMoved = true;
    const other = [...down.current].find(([id]) => id !== event.pointerId)?.[1];
    down.current.set(event.pointerId, at);
    if (other === undefined) change((now) => movedBox(now, photo, at[0] - before[0], at[1] - before[1]));
    else pinch(before, at, other);
  };
  const pinch = (before: Px, at: Px, other: Px): void => {
    const apart = (a: Px): number => Math.max(8, Math.hypot(a[0] - other[0], a[1] - other[1]));
    const middle: Px = [(at[0] + other[0]) / 2, (at[1] + other[1]) / 2];
    change((now) =>
      movedBox(
        zoomedBox(now, photo, view, apart(at) / apart(before), middle),
        photo,
        (at[0] - before[0]) / 2,
        (at[1] - before[1]) / 2,
      ),
    );
  };
  const up = (event: PointerEvent<Element>, isClick: boolean): void => {
    if (!down.current.delete(event.pointerId) || start.current === null) return;
    const { hasMoved } = start.current;
    if (down.current.size > 0) return;
    start.current = null;
    if (isClick && !hasMoved) onClick(toPhoto(box, view, place(event)), 1 / box.scale);
  };
  return {
    box,
    view,
    zoom: (factor) => about(factor, [view.width / 2, view.height / 2]),
    fit: () => setHeld(null),
    goTo: (at) =>
      change((now) => ({ scale: Math.max(now.scale, Math.min(1, 6 * fitBox(photo, view).scale)), middle: at })),
    pressed: (key, isFine) => {
      const by = KEYS[key];
      if (by === undefined) return false;
      if (typeof by === 'number') about(by, [view.width / 2, view.height / 2]);
      else if (by === null) setHeld(null);
      else change((now) => movedBox(now, photo, by[0] / (isFine ? 10 : 1), by[1] / (isFine ? 10 : 1)));
      return true;
    },
    pointer: {
      onPointerDown: (event) => {
        if (event.button !== 0) return;
        event.currentTarget.setPointerCapture(event.pointerId);
        down.current.set(event.pointerId, place(event));
        start.current = { at: place(event), hasMoved: down.current.size > 1 };
      },
      onPointerMove: move,
      onPointerUp: (event) => up(event, true),
      onPointerCancel: (event) => up(event, false),
    },
  };
}

/** Arrows bring into sight what lies that way; null shows the whole photo. */
const KEYS: Readonly<Record<string, Px | number | null>> = {
  ArrowLeft: [KEY_MOVE_PX, 0],
  ArrowRight: [-KEY_MOVE_PX, 0],
  ArrowUp: [0, KEY_MOVE_PX],
  ArrowDown: [0, -KEY_MOVE_PX],
  '+': ZOOM_STEP,
  '=': ZOOM_STEP,
  '-': 1 / ZOOM_STEP,
  '0': null,
};

function useSize(frame: RefObject<HTMLElement | null>): Size {
  const [size, setSize] = useState<Size>({ width: 800, height: 600 });
  useLayoutEffect(() => {
    const element = frame.current;
    if (element === null) return;
    const measure = (): void => setSize({ width: element.clientWidth || 1, height: element.clientHeight || 1 });
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(element);
    return () => watch.disconnect();
  }, [frame]);
  return size;
}

/** React's own wheel listener is passive and couldn't keep the page from scrolling. */
function useWheel(frame: RefObject<HTMLElement | null>, zoom: (factor: number, at: Px) => void): void {
  const latest = useRef(zoom);
  latest.current = zoom;
  useEffect(() => {
    const element = frame.current;
    if (element === null) return;
    const turned = (event: WheelEvent): void => {
      event.preventDefault();
      const rect = element.getBoundingClientRect();
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
      const factor = Math.exp(Math.max(-1, Math.min(1, (-event.deltaY * lines) / 400)));
      latest.current(factor, [event.clientX - rect.left, event.clientY - rect.top]);
    };
    element.addEventListener('wheel', turned, { passive: false });
    return () => element.removeEventListener('wheel', turned);
  }, [frame]);
}
