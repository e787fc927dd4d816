import { useRef } from 'react';
import { figureText, gapFigure, lengthFigure, type Units } from '../../look/format.ts';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';
import { useWidth } from '../../ruler/use-width.ts';
import { keyOf, middleHeight } from './section-frame.ts';
import type { TracingsLayout } from './tracings-service.ts';

const T = TRACINGS_TEXTS.along;

interface LengthwiseProps {
  readonly layout: TracingsLayout;
  readonly asked: ReadonlySet<string>;
  readonly units: Units;
}

const HEIGHT_PX = 172;
const TOP_PX = 26;
const BOTTOM_PX = 46;
const EDGE_PX = 34;
/** Distances are written in a zone this wide or wider. */
const LABEL_PX = 34;

/** From the left: stations with their distances, lengthwise curves, and how far the surface between stations is known. */
export function Lengthwise({ layout, asked, units }: LengthwiseProps) {
  const holder = useRef<HTMLDivElement>(null);
  const width = useWidth(holder, 800);
  const { stations, lengthwise, gaps } = layout;
  if (stations.length === 0) return <div ref={holder} />;
  const frame = frameOf(layout, width);
  const length = (mm: number): string => figureText({ ...lengthFigure(mm, units, { decimals: 0 }), unit: '' });
  const place = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  const said = gaps.map((gap) =>
    T.gap(place(gap.fromMm), place(gap.toMm), figureText(gapFigure(gap.uncertaintyMm, units))),
  );
  return (
    <div ref={holder} className="tracing-along">
      <svg
        width={width}
        height={HEIGHT_PX}
        viewBox={`0 0 ${width} ${HEIGHT_PX}`}
        role="img"
        aria-label={T.drawing(said.join('; '))}
      >
        <defs>
          <pattern id="tracing-hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <line className="tracing-hatch" x1="0" x2="0" y1="0" y2="7" />
          </pattern>
        </defs>
        {gaps.map((gap, i) => {
          const from = frame.toX(gap.fromMm);
          const to = frame.toX(gap.toMm);
          return (
            <g key={gap.fromMm}>
              <rect
                className="tracing-zone"
                x={from}
                y={TOP_PX}
                width={Math.max(0, to - from)}
                height={HEIGHT_PX - TOP_PX - BOTTOM_PX}
              />
              {to - from >= LABEL_PX && (
                <>
                  <path className="tracing-dimension" d={dimension(from, to, HEIGHT_PX - 32)} />
                  <text className="middle" x={(from + to) / 2} y={HEIGHT_PX - 36}>
                    {length(gap.toMm - gap.fromMm)}
                  </text>
                  <text
                    className="middle tracing-doubt"
                    x={(from + to) / 2}
                    y={i % 2 === 0 || to - from > 56 ? 12 : 22}
                  >
                    {T.doubt(figureText({ ...gapFigure(gap.uncertaintyMm, units), unit: '' }))}
                  </text>
                </>
              )}
            </g>
          );
        })}
        {stations.map((station) => {
          const x = frame.toX(station.xMm);
          const isAsked = station.ids.some((id) => asked.has(id)) || asked.has(keyOf(station));
          return (
            <g key={keyOf(station)} className={isAsked ? 'asked' : undefined}>
              <line className="tracing-station" x1={x} x2={x} y1={TOP_PX - 2} y2={HEIGHT_PX - 26} />
              <circle className="tracing-top" cx={x} cy={frame.toY(middleHeight(station.points))} r={2.6} />
            </g>
          );
        })}
        {frame.labelled.map((mm) => (
          <text key={mm} className="middle" x={frame.toX(mm)} y={HEIGHT_PX - 13}>
            {length(mm)}
          </text>
        ))}
        {lengthwise.map(({ id, points }) => (
          <g key={id} className={asked.has(id) ? 'asked' : undefined}>
            <path className="tracing-lengthwise" d={lengthPath(points, frame)} />
            <text x={frame.toX(points[0]!) + 4} y={frame.toY(points[2]!) - 5}>
              {id}
            </text>
          </g>
        ))}
      </svg>
      <p className="small soft">{T.legend(T.units[units.length], lengthwise.length === 0 ? T.noCurve : '')}</p>
    </div>
  );
}

interface Frame {
  toX(xMm: number): number;
  toY(zMm: number): number;
  /** Stations whose figures have room beside each other. */
  readonly labelled: readonly number[];
}

function frameOf({ stations, lengthwise }: TracingsLayout, width: number): Frame {
  const xs = stations.map(({ xMm }) => xMm);
  const zs = stations.map(({ points }) => middleHeight(points));
  for (const { points } of lengthwise)
    for (let i = 0; i < points.length; i += 3) {
      xs.push(points[i]!);
      zs.push(points[i + 2]!);
    }
  const [x0, x1] = [Math.min(...xs), Math.max(...xs)];
  const [z0, z1] = [Math.min(...zs), Math.max(...zs)];
  const along = (width - 2 * EDGE_PX) / Math.max(1, x1 - x0);
  const room = HEIGHT_PX - TOP_PX - BOTTOM_PX - 24;
  // One scale for both directions where the paper allows it.
  const up = Math.min(along, room / Math.max(1, z1 - z0));
  const toX = (mm: number): number => EDGE_PX + (mm - x0) * along;
  const labelled: number[] = [];
  for (const { xMm } of stations) {
    const last = labelled.at(-1);
    if (last === undefined || toX(xMm) - toX(last) > 30) labelled.push(xMm);
  }
  return { toX, toY: (mm) => TOP_PX + 12 + room / 2 - (mm - (z0 + z1) / 2) * up, labelled };
}

function lengthPath(points: Float64Array, frame: Frame): string {
  let path = '';
  for (let i = 0; i < points.length; i += 3)
    path += `${i === 0 ? 'M' : 'L'}${frame.toX(points[i]!).toFixed(1)} ${frame.toY(points[i + 2]!).toFixed(1)}`;
  return path;
}

/** A dimension line with true arrows. */
const dimension = (from: number, to: number, y: number): string =>
  `M${from} ${y}H${to}M${from + 5} ${y - 2.5}L${from} ${y}L${from + 5} ${y + 2.5}M${to - 5} ${y - 2.5}L${to} ${y}L${to - 5} ${y + 2.5}`;
