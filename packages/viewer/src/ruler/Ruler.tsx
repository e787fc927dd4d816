import type { ClearanceScale } from '@barwright/geometry';
import { useRef, useState } from 'react';
import type { BackView, FitView } from '../contract.ts';
import { figureText, lengthFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { type BarPlaces, BarStrip } from './BarStrip.tsx';
import type { MarkedStretch, RulerFrame } from './frame.ts';
import { GapBand } from './GapBand.tsx';
import { Handle } from './Handle.tsx';
import { Axis, Landmarks } from './Landmarks.tsx';
import { LoadBand } from './LoadBand.tsx';
import { createRulerScale, niceCeiling } from './ruler-scale.ts';
import { type BarSide, ShapeHandles, type ShapeName } from './ShapeHandles.tsx';
import { SideView } from './SideView.tsx';
import { type SideScale, sideScale } from './side-scale.ts';
import { type TypedAt, TypeHere } from './TypeHere.tsx';
import { useWidth, useWindowHeight } from './use-width.ts';

const T = TEXTS.ruler;

export interface RulerProps {
  readonly fit: FitView | null;
  readonly back: BackView | null;
  readonly units: Units;
  readonly stationXMm: number;
  readonly setPositionMm: number;
  /** Per cent of bar length from the front tip; null while it is not known. */
  readonly loadAtPercent: number | null;
  /** Bar lengths from the pattern as it stands, so that the strip follows a drag at once. */
  readonly bar: { readonly lengthMm: number; readonly flareFrontMm: number; readonly flareRearMm: number } | null;
  /** What of the bars' shape can be dragged here; null while no pattern is read. */
  readonly barSide: BarSide | null;
  readonly exaggeration: number;
  /** 1, or more where the ruler is read from across a room. */
  readonly zoom: number;
  readonly limits: ClearanceScale;
  readonly marked: MarkedStretch | null;
  readonly isStale: boolean;
  readonly isLaidOn: boolean;
  readonly onLaidOn: (laidOn: boolean) => void;
  readonly onExaggeration: (factor: number) => void;
  readonly onStation: (xMm: number) => void;
  readonly onSetPosition: (mm: number) => void;
  readonly onLoadAt: (percent: number) => void;
  readonly onShape: (name: ShapeName, mm: number, fromMm: number) => void;
  readonly onOpenCut: () => void;
  readonly onDragStart?: () => void;
  readonly onDragEnd?: () => void;
}

const WIDE = { bracket: 30, side: 112, strip: 30, gap: 50, load: 38, axis: 48, between: 4 };
const NARROW = { bracket: 28, side: 36, strip: 22, gap: 32, load: 44, axis: 32, between: 4 };
/** Enlarged the side view has to be tall enough to show a curve. */
const ROOM = { ...NARROW, side: 62 };
/** Share of the window that the drawing may take beside the picture, and what the buttons above it need, px. */
const WINDOW_SHARE = 0.44;
const CONTROLS_PX = 52;
const EXAGGERATIONS = [1, 2, 3, 4];

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
  const rows = layOut(zoom > 1 ? ROOM : isNarrow ? NARROW : WIDE, (windowPx * WINDOW_SHARE - CONTROLS_PX) / zoom);
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

interface Rows {
  readonly side: number;
  readonly sideHeight: number;
  readonly strip: number;
  readonly gapLeft: number;
  readonly gapRight: number;
  readonly gapHeight: number;
  readonly load: number;
  readonly loadHeight: number;
  readonly axis: number;
  readonly end: number;
}

/**
 * Bands one below the other. On a wide page the curves grow or shrink so that the axis stays in sight; on a phone the axis
 * stands right under the gaps and the load comes below it.
 */
function layOut(h: typeof WIDE, availablePx: number): Rows {
  const isNarrow = h !== WIDE;
  const fixed = h.bracket + h.strip + h.axis + 3 * h.between;
  const curves = h.side + 2 * h.gap + h.load;
  const stretch = isNarrow ? 1 : Math.min(1.6, Math.max(0.8, (availablePx - fixed) / curves));
  const [sideHeight, gapHeight, loadHeight] = [h.side, h.gap, h.load].map((px) => Math.round(px * stretch)) as [
    number,
    number,
    number,
  ];
  const side = h.bracket;
  const strip = side + sideHeight;
  const gapLeft = strip + h.strip;
  const gapRight = gapLeft + gapHeight + h.between;
  const below = gapRight + gapHeight + h.between;
  const load = isNarrow ? below + h.axis : below;
  const axis = isNarrow ? below : load + loadHeight + h.between;
  const end = Math.max(axis + h.axis, load + loadHeight + 18);
  return { side, sideHeight, strip, gapLeft, gapRight, gapHeight, load, loadHeight, axis, end };
}

function RulerControls({ isLaidOn, onLaidOn, exaggeration, onExaggeration, onOpenCut }: RulerProps) {
  return (
    <div className="ruler-controls">
      <h2>{T.title}</h2>
      <fieldset className="switch">
        <legend className="visually-hidden">{T.seating}</legend>
        <button type="button" aria-pressed={!isLaidOn} onClick={() => onLaidOn(false)}>
          {T.loaded}
        </button>
        <button type="button" aria-pressed={isLaidOn} onClick={() => onLaidOn(true)}>
          {T.laidOn}
        </button>
      </fieldset>
      <label className="small ruler-vertical">
        {T.taller}{' '}
        <select value={String(exaggeration)} onChange={(event) => onExaggeration(Number(event.target.value))}>
          {[...new Set([...EXAGGERATIONS, exaggeration])].map((factor) => (
            <option key={factor} value={String(factor)}>
              × {factor}
            </option>
          ))}
        </select>
      </label>
      <button type="button" onClick={onOpenCut}>
        {TEXTS.cut.open}
      </button>
      <p className="small soft ruler-note" title={T.dragHint}>
        {isLaidOn ? T.laidOnNote : T.loadedNote}
      </p>
    </div>
  );
}

/** Touching the ruler anywhere brings the station marker there. */
function StationGround({
  frame,
  heightPx,
  onStation,
}: {
  frame: RulerFrame;
  heightPx: number;
  onStation: (xMm: number) => void;
}) {
  const { scale } = frame;
  const left = scale.toPx(scale.fromMm);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a shortcut for pointers; the marker itself is a slider with keys
    <rect
      className="touch-ground"
      x={left}
      y={0}
      width={scale.toPx(scale.toMm) - left}
      height={heightPx}
      onClick={(event) => {
        const box = event.currentTarget.ownerSVGElement!.getBoundingClientRect();
        onStation(Math.round(scale.toMmAt((event.clientX - box.left) / (frame.zoom ?? 1))));
      }}
    />
  );
}

function Mark({ frame, marked, rows }: { frame: RulerFrame; marked: MarkedStretch; rows: Rows }) {
  const x = frame.scale.toPx(marked.fromMm);
  const width = Math.max(4, frame.scale.toPx(marked.toMm) - x);
  return <rect className="mark" x={x} y={rows.side} width={width} height={rows.axis - rows.side} />;
}

function Curves({
  fit,
  limits,
  marked,
  isLaidOn,
  frame,
  rows,
  side,
}: RulerProps & { frame: RulerFrame; rows: Rows; side: SideScale | null }) {
  if (fit === null) return null;
  const profiles = isLaidOn ? fit.laidOnProfiles : fit.profiles;
  const band = { frame, limits, heightPx: rows.gapHeight };
  const ghost = isLaidOn ? null : fit.laidOnProfiles;
  const name = (long: string, short: string): string => (frame.isNarrow ? short : long);
  const isMarked = (side: 'left' | 'right'): boolean =>
    marked !== null && (marked.side === 'both' || marked.side === side);
  const most = niceCeiling((fit.result.load.appliedN * 3) / 1000);
  return (
    <g className="curves">
      {side !== null && (
        <SideView frame={frame} profiles={profiles} side={side} bottomPx={rows.side + rows.sideHeight} />
      )}
      <GapBand
        {...band}
        profile={profiles.left}
        laidOn={ghost?.left ?? null}
        name={name(T.gapLeft, TEXTS.left)}
        topPx={rows.gapLeft}
        isMarked={isMarked('left')}
      />
      <GapBand
        {...band}
        profile={profiles.right}
        laidOn={ghost?.right ?? null}
        name={name(T.gapRight, TEXTS.right)}
        topPx={rows.gapRight}
        isMarked={isMarked('right')}
      />
      <LoadBand frame={frame} profiles={fit.profiles} topPx={rows.load} heightPx={rows.loadHeight} mostNPerMm={most} />
    </g>
  );
}

/** What the handles need besides the places they are drawn at. */
type Parts = Omit<RulerProps, 'bar'>;

interface HandlesProps extends Parts {
  readonly frame: RulerFrame;
  readonly rows: Rows;
  readonly bar: BarPlaces | null;
  readonly onType: (at: TypedAt) => void;
}

function Handles(props: HandlesProps) {
  const { frame, rows, bar, units, stationXMm, setPositionMm, onDragStart, onDragEnd } = props;
  const { scale } = frame;
  const svgX = useRef<SVGGElement>(null);
  const mmAt = (clientX: number): number =>
    scale.toMmAt((clientX - (svgX.current?.ownerSVGElement?.getBoundingClientRect().left ?? 0)) / (frame.zoom ?? 1));
  const place = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  const station = scale.toPx(Math.min(scale.toMm, Math.max(scale.fromMm, stationXMm)));
  const flagX = Math.min(frame.widthPx - 46, Math.max(46, station));
  return (
    <g ref={svgX} className="handles">
      <line className="station-line" x1={station} x2={station} y1={rows.side - 12} y2={rows.axis} />
      <Handle
        label={T.stationLabel}
        text={`${place(stationXMm)} ${TEXTS.cut.behindBlade}`}
        value={stationXMm}
        min={scale.fromMm}
        max={scale.toMm}
        step={1}
        valueAt={mmAt}
        onChange={props.onStation}
      >
        <rect className="hit" x={station - 12} y={rows.side - 14} width={24} height={rows.axis - rows.side + 52} />
        <path className="knob" d={`M${station} ${rows.axis}l-5 8v3h10v-3z`} />
        <rect className="flag" x={flagX - 44} y={rows.axis + 11} width={88} height={18} rx={3} />
        <text className="flag-text" x={flagX} y={rows.axis + 24} textAnchor="middle">
          {T.station} {place(stationXMm)}
        </text>
      </Handle>
      {bar !== null && (
        <Handle
          label={T.setPosition}
          text={place(setPositionMm)}
          value={setPositionMm}
          min={-200}
          max={200}
          step={1}
          valueAt={mmAt}
          onChange={props.onSetPosition}
          onType={() =>
            props.onType({
              name: 'set',
              label: T.setPosition,
              mm: setPositionMm,
              xPx: scale.toPx(bar.frontMm),
              yPx: rows.strip,
            })
          }
          onStart={onDragStart}
          onEnd={onDragEnd}
        >
          <rect className="hit" x={scale.toPx(bar.frontMm) - 14} y={rows.strip - 8} width={28} height={30} />
          <circle className="knob" cx={scale.toPx(bar.frontMm)} cy={rows.strip + 6} r={6} />
          <text
            className="handle-text"
            x={Math.max(22, scale.toPx(bar.frontMm))}
            y={rows.strip - 6}
            textAnchor="middle"
          >
            {T.setPositionShort} {place(setPositionMm)}
          </text>
        </Handle>
      )}
      {bar !== null && props.loadAtPercent !== null && (
        <LoadHandle {...props} bar={bar} percent={props.loadAtPercent} mmAt={mmAt} />
      )}
    </g>
  );
}

function LoadHandle({
  bar,
  percent,
  mmAt,
  frame,
  rows,
  onLoadAt,
  onDragStart,
  onDragEnd,
}: Parts & {
  frame: RulerFrame;
  rows: Rows;
  bar: BarPlaces;
  percent: number;
  mmAt: (clientX: number) => number;
}) {
  const length = bar.rearMm - bar.frontMm;
  const x = frame.scale.toPx(bar.frontMm + (percent / 100) * length);
  return (
    <Handle
      label={T.loadPosition}
      text={`${percent.toFixed(1)} %`}
      value={percent}
      min={0}
      max={100}
      step={0.5}
      valueAt={(clientX) => ((mmAt(clientX) - bar.frontMm) / length) * 100}
      onChange={onLoadAt}
      onStart={onDragStart}
      onEnd={onDragEnd}
    >
      <rect className="hit" x={x - 14} y={rows.strip - 22} width={28} height={32} />
      <path className="knob" d={`M${x} ${rows.strip}l-6 -9h4.2v-10h3.6v10h4.2z`} />
      <text className="handle-text" x={x - 9} y={rows.strip - 6} textAnchor="end">
        {T.loadShort} {percent.toFixed(0)} %
      </text>
    </Handle>
  );
}
