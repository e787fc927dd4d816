import type { MapGrid, MapScale } from '@barwright/geometry';
import { useId, useMemo } from 'react';
import { decimalFigure, figureText, gapFigure, pressureFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { BarStrip } from '../../ruler/BarStrip.tsx';
import { GapBand } from '../../ruler/GapBand.tsx';
import { Axis, Landmarks } from '../../ruler/Landmarks.tsx';
import { SideView } from '../../ruler/SideView.tsx';
import { sideScale } from '../../ruler/side-scale.ts';
import { BarMap } from './BarMap.tsx';
import {
  type CompareLayout,
  type DrawnDifference,
  type DrawnResult,
  type DrawnView,
  differenceOf,
  differenceScaleOf,
  layOutComparison,
  mapScaleOf,
} from './compare-layout.ts';
import type { MapKind } from './compare-service.ts';
import { Legend } from './Legend.tsx';
import { behindBlade, differenceGrid } from './map-places.ts';
import { keyFigureWords } from './output-rows.ts';

const T = TEXTS.compare;

export interface CompareDrawingProps {
  readonly results: readonly DrawnResult[];
  readonly view: DrawnView;
  readonly map: MapKind;
  readonly difference: DrawnDifference | null;
  readonly widthPx: number;
  readonly stationXMm: number;
  /** What stands under the drawing on paper, and the height that it takes. */
  readonly below?: { readonly heightPx: number; readonly body: (topPx: number) => React.ReactNode };
  /** Style sheet that goes with the drawing where the page's own is not at hand. */
  readonly style?: string;
}

const AXIS_PX = 52;
const LEGEND_PX = 52;

/** Two or three results one above the other on one ruler, one exaggeration and one scale of colours. */
export function CompareDrawing(props: CompareDrawingProps) {
  const { results, view, map, difference, widthPx, stationXMm, below, style } = props;
  const hatchId = `${useId()}hatch`;
  const layout = useMemo(
    () => layOutComparison(results, view, widthPx, stationXMm),
    [results, view, widthPx, stationXMm],
  );
  const { frame, blockPx, differencePx } = layout;
  const scale = mapScaleOf(map, view);
  const blocksPx = results.length * blockPx;
  const axisPx = blocksPx;
  const legendPx = axisPx + AXIS_PX;
  const differenceTop = legendPx + LEGEND_PX;
  const drawnPx = difference === null ? differenceTop : differenceTop + differencePx + LEGEND_PX;
  const heightPx = drawnPx + (below?.heightPx ?? 0);
  const title = T.drawing(results.map(({ letter, name }) => `${letter}: ${name}`).join('; '));
  return (
    <svg
      className="ruler compare-svg"
      xmlns="http://www.w3.org/2000/svg"
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      role="img"
      aria-label={title}
    >
      <title>{title}</title>
      {style !== undefined && <style>{style}</style>}
      <defs>
        <pattern id={hatchId} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line className="hatch" x1="0" x2="0" y1="0" y2="6" />
        </pattern>
      </defs>
      {style !== undefined && <rect className="compare-ground" width={widthPx} height={heightPx} />}
      <StationLine layout={layout} bottomPx={axisPx} />
      {results.map((result, i) => (
        <ResultBlock
          key={result.letter}
          {...{ result, view, map, layout, scale, hatchId }}
          topPx={i * blockPx}
          isLast={i === results.length - 1}
        />
      ))}
      <Axis frame={frame} topPx={axisPx} noteY={axisPx + 40} />
      <Legend
        scale={scale}
        units={view.units}
        widthPx={widthPx}
        topPx={legendPx}
        name={T.mapNames[map]}
        ends={differenceOf(map) === 'clearance' ? [T.squeezeEnd, T.clearEnd] : ['', '']}
      />
      {difference !== null && (
        <>
          <DifferenceBlock {...{ results, difference, map, layout, hatchId, view }} topPx={differenceTop} />
          <Legend
            scale={differenceScaleOf(map, difference)}
            units={view.units}
            widthPx={widthPx}
            topPx={differenceTop + differencePx}
            name={T.lessWords(difference.second, difference.first)}
            ends={T.differenceEnds[differenceOf(map)]}
          />
        </>
      )}
      {below?.body(drawnPx)}
    </svg>
  );
}

interface BlockProps {
  readonly result: DrawnResult;
  readonly view: DrawnView;
  readonly map: MapKind;
  readonly layout: CompareLayout;
  readonly scale: MapScale;
  readonly hatchId: string;
  readonly topPx: number;
  readonly isLast: boolean;
}

function ResultBlock({ result, view, map, layout, scale, hatchId, topPx, isLast }: BlockProps) {
  const { view: of } = result;
  const { frame, bands, exaggeration } = layout;
  const bracket = topPx + bands.title;
  const side = bracket + bands.bracket;
  const strip = side + bands.side;
  const gapLeft = strip + bands.strip;
  const gapRight = gapLeft + bands.gap + bands.between;
  const mapTop = gapRight + bands.gap + 2 * bands.between;
  const mapEnd = mapTop + 2 * bands.map + bands.between;
  const profiles = view.isLaidOn ? of.laidOnProfiles : of.profiles;
  const room = { topPx: side, heightPx: bands.side, exaggeration };
  const heights = sideScale(profiles, frame.scale.pxPerMm, room);
  const band = { frame, limits: view.clearanceScale, heightPx: bands.gap, laidOn: null, isMarked: false };
  const name = (long: string, short: string): string => (frame.isNarrow ? short : long);
  const places = {
    frontMm: of.frontMm,
    rearMm: of.frontMm + of.lengthMm,
    frontFlareEndMm: of.frontMm + of.flareFrontMm,
    rearFlareStartMm: of.frontMm + of.lengthMm - of.flareRearMm,
  };
  return (
    <g className="compare-block" data-letter={result.letter}>
      <BlockTitle result={result} layout={layout} topPx={topPx} units={view.units} />
      {heights !== null && <SideView frame={frame} profiles={profiles} side={heights} bottomPx={side + bands.side} />}
      <BarStrip frame={frame} places={places} topPx={strip} />
      <GapBand {...band} profile={profiles.left} name={name(TEXTS.ruler.gapLeft, TEXTS.left)} topPx={gapLeft} />
      <GapBand {...band} profile={profiles.right} name={name(TEXTS.ruler.gapRight, TEXTS.right)} topPx={gapRight} />
      <MapPair
        grids={of.maps[map]}
        bars={profiles}
        {...{ layout, scale, hatchId }}
        units={view.units}
        bold={map === 'pressure' ? result.limitsKPa : [0]}
        topPx={mapTop}
      />
      <Landmarks frame={frame} back={of.back} topPx={bracket} bottomPx={isLast ? mapEnd + bands.end : mapEnd} />
      {!isLast && <line className="compare-rule" x1={8} x2={frame.widthPx - 8} y1={mapEnd + 10} y2={mapEnd + 10} />}
    </g>
  );
}

/** About as many letters of the title as there is room for. */
const PX_PER_LETTER = 7.2;

function BlockTitle({
  result,
  layout: { frame },
  topPx,
  units,
}: Pick<BlockProps, 'result' | 'layout' | 'topPx'> & { units: Units }) {
  const room = Math.floor((frame.widthPx - 20) / PX_PER_LETTER);
  const title = `${result.letter}: ${result.name}`;
  const [contact, shape] = keyFigureWords(result.view.result, units);
  const lines = frame.isNarrow ? [contact, shape] : [`${contact}; ${shape}`];
  return (
    <g>
      <text className="compare-title" x={8} y={topPx + 16}>
        {title.length > room ? `${title.slice(0, room - 1)}…` : title}
      </text>
      {lines.map((line, i) => (
        <text key={line} className="compare-figures" x={8} y={topPx + 33 + 15 * i}>
          {line}
        </text>
      ))}
    </g>
  );
}

interface MapPairProps {
  readonly grids: { readonly left: MapGrid; readonly right: MapGrid };
  readonly bars: DrawnResult['view']['profiles'];
  readonly layout: CompareLayout;
  readonly scale: MapScale;
  readonly hatchId: string;
  readonly units: Units;
  readonly bold: readonly number[];
  readonly topPx: number;
}

/** Both undersides as seen from below, front to the left: left bar above, inner edges facing each other. */
function MapPair({ grids, bars, layout, scale, hatchId, units, bold, topPx }: MapPairProps) {
  const { frame, bands, innerMm, acrossPxPerMm } = layout;
  const middle = topPx + bands.map + bands.between / 2;
  const times = acrossPxPerMm / frame.scale.pxPerMm;
  const draw = (side: 'left' | 'right') => {
    const sign = side === 'left' ? -1 : 1;
    const bar = { grid: grids[side], profile: bars[side] };
    const place = {
      toX: (along: number) => frame.scale.toPx(behindBlade(bar, along)),
      toY: (across: number) => middle + sign * (bands.between / 2 + (across - innerMm) * acrossPxPerMm),
      key: `${topPx} ${frame.scale.pxPerMm} ${frame.scale.fromMm} ${innerMm} ${acrossPxPerMm}`,
    };
    return (
      <BarMap grid={grids[side]} {...{ scale, place, bold, hatchId }} figure={(v) => mapFigure(v, scale, units)} />
    );
  };
  return (
    <g className="compare-maps">
      {draw('left')}
      {draw('right')}
      {!frame.isNarrow && (
        <>
          <text className="name" x={8} y={middle - bands.map / 2}>
            {T.mapLeft}
          </text>
          <text className="name" x={8} y={middle + bands.map / 2}>
            {T.mapRight}
          </text>
          <text className="note" x={8} y={middle + 4}>
            {T.across(times.toFixed(2))}
          </text>
        </>
      )}
    </g>
  );
}

/** A value of a map without its unit, which the legend has. */
export function mapFigure(value: number, { unit }: MapScale, units: Units): string {
  const parts = unit === 'mm' ? gapFigure(value, units, { decimals: tidy(value) }) : pressureFigure(value, units);
  const isMetric = unit === 'kPa' && units.pressure === 'kPa';
  return figureText(isMetric ? decimalFigure(value, '', tidy(value)) : { ...parts, unit: '' });
}

const tidy = (value: number): number => (Number.isInteger(value) ? 0 : 1);

function DifferenceBlock({
  results,
  difference,
  map,
  layout,
  hatchId,
  view,
  topPx,
}: {
  results: readonly DrawnResult[];
  difference: DrawnDifference;
  map: MapKind;
  layout: CompareLayout;
  hatchId: string;
  view: DrawnView;
  topPx: number;
}) {
  const first = results.find(({ letter }) => letter === difference.first);
  const second = results.find(({ letter }) => letter === difference.second);
  const { matching } = difference;
  const grids = useMemo(() => {
    if (first === undefined || second === undefined) return null;
    const of = (side: 'left' | 'right'): MapGrid =>
      differenceGrid(barOf(first, map, side), barOf(second, map, side), matching);
    return { left: of('left'), right: of('right') };
  }, [first, second, map, matching]);
  if (first === undefined || grids === null) return null;
  const { frame, bands } = layout;
  return (
    <g className="compare-difference">
      <text className="compare-title" x={8} y={topPx + 16}>
        {T.differenceTitle(difference.second, difference.first, T.mapNames[map])}
      </text>
      {(frame.isNarrow ? T.matchedShort : T.matched)[matching](difference.first).map((line, i) => (
        <text key={line} className="compare-figures" x={8} y={topPx + 33 + 15 * i}>
          {line}
        </text>
      ))}
      <MapPair
        grids={grids}
        bars={profilesFor(first, map)}
        scale={differenceScaleOf(map, difference)}
        {...{ layout, hatchId }}
        units={view.units}
        bold={[]}
        topPx={topPx + bands.title + 4}
      />
    </g>
  );
}

const profilesFor = ({ view }: DrawnResult, map: MapKind) => (map === 'laidOn' ? view.laidOnProfiles : view.profiles);

const barOf = (result: DrawnResult, map: MapKind, side: 'left' | 'right') => ({
  grid: result.view.maps[map][side],
  profile: profilesFor(result, map)[side],
});

function StationLine({ layout: { frame, bands }, bottomPx }: { layout: CompareLayout; bottomPx: number }) {
  const { scale, stationXMm } = frame;
  if (stationXMm < scale.fromMm || stationXMm > scale.toMm) return null;
  const x = scale.toPx(stationXMm);
  return <line className="station-line" x1={x} x2={x} y1={bands.title} y2={bottomPx} />;
}
