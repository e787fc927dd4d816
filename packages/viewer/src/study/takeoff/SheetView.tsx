import { useEffect, useRef, useState } from 'react';
import { TEXTS } from '../../look/texts.ts';

/** A sheet as it is printed, as wide as its place, and the way to save it at its full size. */
export function SheetView({ svg, label, saveAs }: { svg: string; label: string; saveAs: string }) {
  const holder = useRef<HTMLDivElement>(null);
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    const sheet = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    sheet.removeAttribute('width');
    sheet.removeAttribute('height');
    sheet.setAttribute('aria-hidden', 'true');
    holder.current?.replaceChildren(document.importNode(sheet, true));
    const made = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [svg]);
  const name = saveAs.toLowerCase().replace(/[^a-z0-9]+/g, '-');
  return (
    <>
      <div
        ref={holder}
        className="takeoff-sheet"
        role="img"
        aria-label={label}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow page it scrolls, and has to by keys too
        tabIndex={0}
      />
      {address !== null && (
        <p>
          <a href={address} download={`${name}.take-off.svg`}>
            {TEXTS.takeOff.save}
          </a>
        </p>
      )}
    </>
  );
}
