import { useRef, useState } from 'react';
import { TEXTS } from '../look/texts.ts';
import { type BarPlaces, BarStrip } from './BarStrip.tsx';
import type { RulerFrame } from './frame.ts';
import { Axis, Landmarks } from './Landmarks.tsx';
import { RulerControls } from './RulerControls.tsx';
import { Curves, Mark } from './RulerCurves.tsx';
import { Handles, StationGround } from './RulerHandles.tsx';
import type { RulerProps } from './ruler-props.ts';
import { layOut, type Rows } from './ruler-rows.ts';
import { createRulerScale } from './ruler-scale.ts';
import { ShapeHandles, type ShapeName } from './ShapeHandles.tsx';
import { type SideScale, sideScale } from './side-scale.ts';
import { type TypedAt, TypeHere } from './TypeHere.tsx';
import { useWidth, useWindowHeight } from './use-width.ts';

const T = TEXTS.ruler;

/** The one ruler: everything lengthwise over one axis, millimetres behind the shoulder blade. */
export function Ruler(props: RulerProps) {
  const { back, units, marked, isStale, fit, zoom } = props;
  const holder = useRef<HTMLDivElement>(null);
  const widthPx = useWidth(holder) / zoom;
  const windowPx = useWindowHeight();
  // Enlarged there is room for no more than on a phone.
  const isNarrow = widthPx < 560 || zoom > 1;
  const bar = places(props);
  const scale = createRulerScale(
    [back?.usable.toXMm ?? 430, bar?.frontMm ?? 0, bar?.rearMm ?? 0],
    isNarrow ? 10 : 92,
    widthPx - (isNarrow ? 10 : 14),
  );
  const frame: RulerFrame = { scale, units, widthPx, isNarrow, stationXMm: props.stationXMm, zoom };
  const rows = layOut(isNarrow, zoom, windowPx);
  const [typing, setTyping] = useState<TypedAt | null>(null);
  const side = sideOf(props, frame, rows);
  const setTyped = (mm: number): void => {
    if (typing?.name === 'set') props.onSetPosition(mm);
    else if (typing !== null) props.onShape(typing.name as ShapeName, mm, typing.mm);
    setTyping(null);
  };
  return (
    <section className="ruler" aria-label={T.title}>
      <RulerControls {...props} />
      <div ref={holder} className={isStale ? 'ruler-drawing stale' : 'ruler-drawing'}>
        {/* biome-ignore lint/a11y/useSemanticElements: a fieldset can't stand for a drawing */}
        <svg
          width={widthPx * zoom}
          height={rows.end * zoom}
          viewBox={`0 0 ${widthPx} ${rows.end}`}
          role="group"
          aria-label={T.title}
        >
          <defs>
            <pattern id="ruler-hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <line className="hatch" x1="0" x2="0" y1="0" y2="6" />
            </pattern>
          </defs>
          <StationGround frame={frame} heightPx={rows.end} onStation={props.onStation} />
          {marked !== null && <Mark frame={frame} marked={marked} rows={rows} />}
          <Curves {...props} frame={frame} rows={rows} side={side} />
          {bar !== null && <BarStrip frame={frame} places={bar} topPx={rows.strip} />}
          {back !== null && <Landmarks frame={frame} back={back} topPx={0} bottomPx={rows.axis} />}
          <Axis frame={frame} topPx={rows.axis} noteY={isNarrow ? rows.end - 4 : rows.axis + 44} />
          <Handles {...props} frame={frame} rows={rows} bar={bar} onType={setTyping} />
          {side !== null && fit !== null && props.barSide !== null && (
            <ShapeHandles
              frame={frame}
              profile={(props.isLaidOn ? fit.laidOnProfiles : fit.profiles).right}
              side={side}
              bar={props.barSide}
              onShape={props.onShape}
              onType={setTyping}
              onDragStart={props.onDragStart}
              onDragEnd={props.onDragEnd}
            />
          )}
        </svg>
        {typing !== null && (
          <TypeHere
            key={typing.name}
            at={{ ...typing, xPx: typing.xPx * zoom, yPx: typing.yPx * zoom }}
            units={units}
            widthPx={widthPx * zoom}
            onSet={setTyped}
            onLeave={() => setTyping(null)}
          />
        )}
        {fit === null && <p className="empty">{T.empty}</p>}
      </div>
    </section>
  );
}

function sideOf({ fit, isLaidOn, exaggeration }: RulerProps, frame: RulerFrame, rows: Rows): SideScale | null {
  if (fit === null) return null;
  const profiles = isLaidOn ? fit.laidOnProfiles : fit.profiles;
  return sideScale(profiles, frame.scale.pxPerMm, { topPx: rows.side, heightPx: rows.sideHeight, exaggeration });
}

function places({ fit, bar, setPositionMm }: RulerProps): BarPlaces | null {
  if (bar !== null)
    return {
      frontMm: setPositionMm,
      rearMm: setPositionMm + bar.lengthMm,
      frontFlareEndMm: setPositionMm + bar.flareFrontMm,
      rearFlareStartMm: setPositionMm + bar.lengthMm - bar.flareRearMm,
    };
  if (fit === null) return null;
  const { xMm } = fit.profiles.right;
  const [frontMm, rearMm] = [xMm[0]!, xMm[xMm.length - 1]!];
  return { frontMm, rearMm, frontFlareEndMm: frontMm, rearFlareStartMm: rearMm };
}
