import { CAUTIONS } from '@barwright/geometry';
import { useEffect, useMemo, useRef } from 'react';
import { fileNameFor, saveText } from '../../files/save-file.ts';
import { useIsAsking } from '../../lesson/asking.ts';
import { TEXTS } from '../../look/texts.ts';
import { ScaleBar } from '../../scene/ScaleBar.tsx';
import { useShown } from '../../scene/shown-store.ts';
import { useBars } from '../../scene/use-bars.ts';
import { useLook } from '../../scene/use-look.ts';
import { COLOUR_MODES, setView, useDocument, useResult, useView } from '../../state/index.ts';
import { drawSheet, REDUCTION } from './draw-sheet.ts';
import { flatBar } from './flat-bar.ts';
import './maps.css';

const T = TEXTS.maps;

/** Both undersides laid flat in the colours of the picture; drawn without WebGL. */
export default function MapsStudy() {
  const svg = useSheet();
  const isAsking = useIsAsking();
  const colour = useView((view) => view.colour);
  const pattern = useDocument((documents) => documents.pattern.name);
  const holder = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (svg === null || isAsking) return holder.current?.replaceChildren();
    const sheet = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    sheet.removeAttribute('width');
    sheet.removeAttribute('height');
    sheet.setAttribute('role', 'img');
    holder.current?.replaceChildren(document.importNode(sheet, true));
  }, [svg, isAsking]);
  if (isAsking) return <p className="soft">{T.asking}</p>;
  return (
    <div className="maps">
      <div className="maps-controls">
        <label>
          {T.colour}{' '}
          <select value={colour} onChange={(event) => setView({ colour: event.currentTarget.value as typeof colour })}>
            {COLOUR_MODES.map((name) => (
              <option key={name} value={name}>
                {TEXTS.scene.colours[name]}
              </option>
            ))}
          </select>
        </label>
        <button
          type="button"
          disabled={svg === null}
          onClick={() => {
            if (svg !== null) saveText(svg, 'image/svg+xml', fileNameFor(`${pattern} ${colour}`, 'map', 'svg'));
          }}
        >
          {T.save}
        </button>
      </div>
      <ScaleBar />
      {/* biome-ignore lint/a11y/useSemanticElements: a section here would be one more heading's place in the outline */}
      <div
        ref={holder}
        className="maps-sheet"
        role="group"
        aria-label={T.sheet}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable with the keyboard
        tabIndex={0}
      />
    </div>
  );
}

function useSheet(): string | null {
  const bars = useBars();
  const look = useLook();
  const fit = useResult((result) => result.fit);
  const back = useResult((result) => result.back);
  const units = useView((view) => view.units);
  const isLaidOn = useView((view) => view.isLaidOn);
  const shown = useShown();
  const pattern = useDocument((documents) => documents.pattern.name);
  return useMemo(() => {
    if (bars === null || fit === null || back === null) return null;
    const how = shown !== null ? shown.words : isLaidOn ? T.laidOn : T.underRider;
    return drawSheet({
      left: flatBar(bars.left, look.valuesOf(bars.left)),
      right: flatBar(bars.right, look.valuesOf(bars.right)),
      look,
      units,
      forkBackMm: fit.tree.forkBackMm,
      cantleFrontMm: fit.tree.cantleFrontMm,
      title: T.title(look.title, pattern, back.name),
      notes: [T.note(how, REDUCTION), ...CAUTIONS.slice(0, 3).map(({ short }) => short)],
    });
  }, [bars, look, fit, back, units, isLaidOn, shown, pattern]);
}
