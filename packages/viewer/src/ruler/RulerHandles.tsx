import { useRef } from 'react';
import { figureText, lengthFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import type { BarPlaces } from './BarStrip.tsx';
import type { RulerFrame } from './frame.ts';
import { Handle } from './Handle.tsx';
import type { RulerProps } from './ruler-props.ts';
import type { Rows } from './ruler-rows.ts';
import type { TypedAt } from './TypeHere.tsx';

const T = TEXTS.ruler;

/** Touching the ruler anywhere brings the station marker there. */
export function StationGround({
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

/** What the handles need besides the places they are drawn at. */
type Parts = Omit<RulerProps, 'bar'>;

interface HandlesProps extends Parts {
  readonly frame: RulerFrame;
  readonly rows: Rows;
  readonly bar: BarPlaces | null;
  readonly onType: (at: TypedAt) => void;
}

/** Station marker, set position and load position. */
export function Handles(props: HandlesProps) {
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
