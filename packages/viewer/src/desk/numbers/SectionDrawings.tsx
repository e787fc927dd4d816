import { useRef } from 'react';
import { angleFigure, figureText, lengthFigure } from '../../look/format.ts';
import { NUMBERS_TEXTS } from '../../look/texts/numbers.ts';
import { useWidth } from '../../ruler/use-width.ts';
import { bandPath, Dimension, dimensionClass, linePath, type Window } from './drawing-parts.tsx';
import { type NumberKey, PLACES, type Place, type SlopeKey } from './number-fields.ts';
import { type DoubtLine, heightOn } from './numbers-lines.ts';
import type { DrawingProps } from './SideDrawing.tsx';

const T = NUMBERS_TEXTS.sections;
const EDGE_PX = 6;
const HEAD_PX = 30;
const GAP_PX = 10;

/** The three sections that were measured, from behind, all to one scale. */
export function SectionDrawings(props: DrawingProps) {
  const holder = useRef<HTMLDivElement>(null);
  const width = useWidth(holder, 800);
  const columns = width >= 620 ? 3 : width >= 300 ? 2 : 1;
  const panel = Math.floor((width - GAP_PX * (columns - 1)) / columns);
  const frame = frameOf(
    props.lines.sections.map(({ line }) => line),
    panel,
  );
  return (
    <div ref={holder} className="numbers-sections" style={{ gridTemplateColumns: `repeat(${columns}, ${panel}px)` }}>
      {props.lines.sections.map(({ line }, i) => (
        <Section key={PLACES[i]} {...props} place={PLACES[i]!} line={line} frame={frame} />
      ))}
    </div>
  );
}

interface Frame {
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
}

function frameOf(sections: readonly DoubtLine[], width: number): Frame {
  const half = sections[0]!.along.at(-1)!;
  const pxPerMm = (width - 2 * EDGE_PX) / (2 * half);
  const fall = Math.max(
    ...sections.map((line) => {
      const top = heightOn(line, 0);
      return Math.max(...line.heightMm.map((z, i) => top - z + line.doubtMm[i]!));
    }),
  );
  const rise = Math.max(...sections.map(({ doubtMm }) => Math.max(...doubtMm)));
  return { width, pxPerMm, height: Math.ceil((fall + rise) * pxPerMm) + HEAD_PX + 4 };
}

function Section({
  place,
  line,
  frame,
  read,
  lit,
  units,
  lines,
}: DrawingProps & { place: Place; line: DoubtLine; frame: Frame }) {
  const top = heightOn(line, 0);
  const rise = Math.max(...line.doubtMm) * frame.pxPerMm;
  const window: Window = {
    pxPerMm: frame.pxPerMm,
    toX: (mm) => frame.width / 2 + mm * frame.pxPerMm,
    toY: (mm) => HEAD_PX + rise + (top - mm) * frame.pxPerMm,
  };
  const { toX, toY } = window;
  const depth = read.values.withersDepth ?? 75;
  const width = read.values.withersWidth!;
  const length = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  return (
    <figure className="numbers-panel">
      <svg
        width={frame.width}
        height={frame.height}
        viewBox={`0 0 ${frame.width} ${frame.height}`}
        role="img"
        aria-label={T.label(T.names[place], slopeWords(place, read))}
      >
        <text className="name" x={6} y={14}>
          {T.names[place]}
        </text>
        <path className="doubt" d={bandPath(line, window)} />
        <line className="level" x1={4} x2={frame.width - 4} y1={toY(top)} y2={toY(top)} />
        <path className="back-line" d={linePath(line, window)} />
        {(['left', 'right'] as const).map((side) => (
          <Slope
            key={side}
            side={side}
            slopeKey={read.values[place] === undefined ? `${place}.${side}` : place}
            at={[
              toX((side === 'left' ? -1 : 1) * lines.bearingYMm),
              toY(heightOn(line, (side === 'left' ? -1 : 1) * lines.bearingYMm)),
            ]}
            armPx={Math.min(ARM_PX, 0.95 * (line.along.at(-1)! - lines.bearingYMm) * frame.pxPerMm)}
            lit={lit}
            read={read}
          />
        ))}
        {place === 'slopeFront' && (
          <>
            <Dimension
              isLit={lit === 'withersWidth'}
              isGiven={read.isGiven('withersWidth')}
              from={[toX(-width / 2), toY(top - depth)]}
              to={[toX(width / 2), toY(top - depth)]}
              label={length(width)}
              labelAt={[toX(0) - 22, toY(top - depth) + 14]}
            />
            <Dimension
              isLit={lit === 'withersDepth'}
              isGiven={read.isGiven('withersDepth')}
              from={[toX(0), toY(top)]}
              to={[toX(0), toY(top - depth)]}
              label={length(depth)}
              labelAt={[toX(0) + 5, toY(top - 0.62 * depth)]}
              anchor="start"
            />
          </>
        )}
      </svg>
    </figure>
  );
}

const slopeWords = (place: Place, { values }: DrawingProps['read']): string =>
  values[place] === undefined
    ? T.sides(
        figureText(angleFigure(values[`${place}.left`] ?? null)),
        figureText(angleFigure(values[`${place}.right`] ?? null)),
      )
    : figureText(angleFigure(values[place]));

const ARM_PX = 42;

/** The slope at the bearing line: level, tangent, and the angle between them. */
function Slope({
  side,
  slopeKey,
  at,
  armPx: arm,
  lit,
  read,
}: {
  side: 'left' | 'right';
  slopeKey: SlopeKey;
  at: readonly [number, number];
  armPx: number;
  lit: NumberKey | null;
  read: DrawingProps['read'];
}) {
  const slope = read.values[slopeKey];
  if (slope === undefined) return null;
  const sign = side === 'left' ? -1 : 1;
  const rad = (slope * Math.PI) / 180;
  const [x, y] = at;
  const along = (radius: number, angle: number): string =>
    `${(x + sign * radius * Math.cos(angle)).toFixed(1)} ${(y + radius * Math.sin(angle)).toFixed(1)}`;
  return (
    <g className={dimensionClass(lit === slopeKey, read.isGiven(slopeKey))}>
      <path d={`M${x} ${y}h${sign * arm}M${x} ${y}L${along(arm, rad)}`} />
      <path
        className="arc"
        d={`M${along(arm * 0.7, 0)}A${arm * 0.7} ${arm * 0.7} 0 0 ${side === 'right' ? 1 : 0} ${along(arm * 0.7, rad)}`}
      />
      <text x={x + sign * (arm - 15)} y={y - 6} textAnchor="middle">
        {figureText(angleFigure(slope))}
      </text>
    </g>
  );
}
