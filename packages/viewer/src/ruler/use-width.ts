import { type RefObject, useLayoutEffect, useState } from 'react';

/** Below this nothing can be drawn to be read; a hidden sheet is measured as zero. */
const LEAST_PX = 240;

/** Width of an element in CSS pixels, followed as the page changes. */
export function useWidth(target: RefObject<HTMLElement | null>, start = 900): number {
  const [width, setWidth] = useState(start);
  useLayoutEffect(() => {
    const element = target.current;
    if (element === null) return;
    const observer = new ResizeObserver(([entry]) => {
      if (entry !== undefined && entry.contentRect.width > 0)
        setWidth(Math.max(LEAST_PX, Math.round(entry.contentRect.width)));
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, [target]);
  return width;
}

/** Height of the window, followed as it changes. */
export function useWindowHeight(): number {
  const [height, setHeight] = useState(() => window.innerHeight);
  useLayoutEffect(() => {
    const follow = (): void => setHeight(window.innerHeight);
    window.addEventListener('resize', follow);
    return () => window.removeEventListener('resize', follow);
  }, []);
  return height;
}
