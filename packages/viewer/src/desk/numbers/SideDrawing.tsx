import { useRef } from 'react';
import { figureText, lengthFigure, massFigure, type Units } from '../../look/format.ts';
import { NUMBERS_TEXTS } from '../../look/texts/numbers.ts';
import { useWidth } from '../../ruler/use-width.ts';
import { bandPath, Dimension, dimensionClass, linePath, type Window } from './drawing-parts.tsx';
import type { NumberKey } from './number-fields.ts';
import { deepest, heightOn, type NumbersLines } from './numbers-lines.ts';
import type { SheetRead } from './read-sheet.ts';

const T = NUMBERS_TEXTS.sideView;

export interface DrawingProps {
  readonly lines: NumbersLines;
  readonly read: SheetRead;
  readonly lit: NumberKey | null;
  readonly units: Units;
}

const EDGE_PX = 20;
const HEAD_PX = 30;
const FOOT_PX = 34;

/** From the left, head on the left: topline and bearing line with the lengths that were measured. */
export function SideDrawing({ lines, read, lit, units }: DrawingProps) {
  const holder = useRef<HTMLDivElement>(null);
  const width = useWidth(holder, 800);
  const { topline, bearing, lengthMm } = lines;
  const window = windowOf(lines, width);
  const { toX, toY, height } = window;
  const length = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  const which = read.values.dip === undefined ? 'sag' : 'dip';
  const line = which === 'dip' ? topline : bearing;
  const low = deepest(line, 0, lengthMm);
  const [z0, z1] = [heightOn(line, 0), heightOn(line, lengthMm)];
  const below = height - 20;
  const { withersHeight, horseWeight } = read.values;
  return (
    <div ref={holder} className="numbers-figure">
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={T.label(length(lengthMm), T.lines[which], length(read.values[which]!))}
      >
        <path className="doubt" d={bandPath(topline, window)} />
        <path className="doubt" d={bandPath(bearing, window)} />
        <path className="back-line" d={linePath(topline, window)} />
        <path className="bearing-line" d={linePath(bearing, window)} />
        <text x={toX(topline.along.at(-1)!)} y={toY(topline.heightMm.at(-1)!) - 7} textAnchor="end">
          {T.topline}
        </text>
        <text x={toX(bearing.along.at(-1)!)} y={toY(bearing.heightMm.at(-1)!) + 15} textAnchor="end">
          {T.bearingLine}
        </text>
        <Dimension
          isLit={lit === 'usableLength'}
          isGiven={read.isGiven('usableLength')}
          from={[toX(0), below]}
          to={[toX(lengthMm), below]}
          label={length(lengthMm)}
          labelAt={[toX(lengthMm / 2), below - 5]}
        >
          <path
            className="thin"
            d={`M${toX(0)} ${toY(heightOn(topline, 0))}V${below + 5}M${toX(lengthMm)} ${toY(heightOn(topline, lengthMm))}V${below + 5}`}
          />
          <text x={toX(0)} y={below + 17} textAnchor="middle">
            {T.bladeEdge}
          </text>
          <text x={toX(lengthMm)} y={below + 17} textAnchor="middle">
            {T.lastRib}
          </text>
        </Dimension>
        <Dimension
          isLit={lit === which}
          isGiven={read.isGiven(which)}
          from={[toX(low.at), toY(low.stickMm)]}
          to={[toX(low.at), toY(low.heightMm)]}
          label={T.depth(T.lines[which], length(read.values[which]!))}
          labelAt={[toX(low.at) + 8, toY((low.stickMm + low.heightMm) / 2) + 4]}
          anchor="start"
        >
          <path className="stick" d={`M${toX(0)} ${toY(z0)}L${toX(lengthMm)} ${toY(z1)}`} />
        </Dimension>
        <g className={dimensionClass(lit === 'withersHeight' || lit === 'horseWeight', true)}>
          <text x={6} y={14}>
            {[
              ...(withersHeight === undefined ? [] : [T.withers(length(withersHeight))]),
              ...(horseWeight === undefined ? [] : [figureText(massFigure(horseWeight, units))]),
            ].join(', ')}
          </text>
        </g>
      </svg>
    </div>
  );
}

function windowOf({ topline, bearing }: NumbersLines, width: number): Window & { height: number } {
  const [x0, x1] = [topline.along[0]!, topline.along.at(-1)!];
  const tops = topline.heightMm.map((z, i) => z + topline.doubtMm[i]!);
  const bottoms = bearing.heightMm.map((z, i) => z - bearing.doubtMm[i]!);
  const [high, low] = [Math.max(...tops), Math.min(...bottoms)];
  const pxPerMm = (width - 2 * EDGE_PX) / (x1 - x0);
  return {
    pxPerMm,
    height: Math.ceil((high - low) * pxPerMm) + HEAD_PX + FOOT_PX,
    toX: (mm) => EDGE_PX + (mm - x0) * pxPerMm,
    toY: (mm) => HEAD_PX + (high - mm) * pxPerMm,
  };
}
