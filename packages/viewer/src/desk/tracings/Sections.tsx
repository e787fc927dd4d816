import { useRef } from 'react';
import { figureText, gapFigure, lengthFigure, type Units } from '../../look/format.ts';
import { COMMON_TEXTS } from '../../look/texts/common.ts';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';
import { useWidth } from '../../ruler/use-width.ts';
import {
  keyOf,
  middleHeight,
  type Pairs,
  type SectionFrame,
  sectionFrame,
  sidePath,
  wholePath,
} from './section-frame.ts';
import type { LaidStation, TracingsLayout } from './tracings-service.ts';

const T = TRACINGS_TEXTS.sections;

interface SectionsProps {
  readonly layout: TracingsLayout;
  /** As it would stand with the choice that is looked at, or null. */
  readonly preview: TracingsLayout | null;
  /** Names that the question at hand is about. */
  readonly asked: ReadonlySet<string>;
  readonly showsOtherSide: boolean;
  /** Of the blade edge in the tracings' own frame, mm. */
  readonly units: Units;
}

/** Every section, all to one scale: y to the horse's right, z up, level line through the middle of the spine. */
export function Sections({ layout, preview, asked, showsOtherSide, units }: SectionsProps) {
  const holder = useRef<HTMLDivElement>(null);
  const width = useWidth(holder, 800);
  const all: Pairs[] = [...layout.stations.map(({ points }) => points), ...layout.loose.map(({ points }) => points)];
  const frame = sectionFrame(all, width);
  return (
    <div ref={holder} className="tracing-sections">
      <p className="small soft">
        {T.count(layout.stations.length)}
        {layout.loose.length > 0 && T.loose(layout.loose.length)}
      </p>
      <div className="tracing-panels">
        {layout.stations.map((station) => (
          <Panel
            key={keyOf(station)}
            station={station}
            // A station that the choice leaves out shows as gone; null: nothing to compare with.
            would={
              preview === null ? undefined : (preview.stations.find((other) => keyOf(other) === keyOf(station)) ?? null)
            }
            isAsked={station.ids.some((id) => asked.has(id)) || asked.has(keyOf(station))}
            showsOtherSide={showsOtherSide}
            frame={frame}
            units={units}
          />
        ))}
        {layout.loose.map(({ id, points }) => (
          <Loose
            key={id}
            id={id}
            points={points}
            isAsked={asked.has(id)}
            frame={frame}
            preview={preview}
            units={units}
          />
        ))}
      </div>
    </div>
  );
}

function Panel({
  station,
  would,
  isAsked,
  showsOtherSide,
  frame,
  units,
}: {
  station: LaidStation;
  would: LaidStation | null | undefined;
  isAsked: boolean;
  showsOtherSide: boolean;
  frame: SectionFrame;
  units: Units;
}) {
  const { points, line } = station;
  const middle = middleHeight(points);
  const sides = (['left', 'right'] as const).filter((side) => (side === 'left' ? station.leftMm : station.rightMm) > 0);
  const changes = would !== undefined && would !== null && differs(station, would);
  const place = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  const words = [
    T.station(station.ids, place(station.xMm)),
    ...sides.map((side) => T.traced(COMMON_TEXTS[side], place(station[`${side}Mm`]))),
  ];
  return (
    <figure className={isAsked ? 'tracing-panel asked' : 'tracing-panel'}>
      <svg
        width={frame.width}
        height={frame.height}
        viewBox={`0 0 ${frame.width} ${frame.height}`}
        role="img"
        aria-label={words.join(', ')}
      >
        <LevelLine frame={frame} />
        {sides.map((side) => (
          <g key={side} className={`side-${side}`}>
            <path className="tracing-line" d={sidePath(line, side, frame, middle)} />
            {isAsked && showsOtherSide && (
              <path className="tracing-other" d={sidePath(line, side, frame, middle, true)} />
            )}
            <Dots points={points} side={side} frame={frame} middle={middle} />
            <text
              x={side === 'left' ? 3 : frame.width - 3}
              y={frame.height - 4}
              textAnchor={side === 'left' ? 'start' : 'end'}
            >
              {COMMON_TEXTS[side]}
            </text>
          </g>
        ))}
        {showsOtherSide && <SidesApart station={station} would={would ?? null} frame={frame} />}
        {changes && <path className="tracing-would" d={wholePath(would.line, frame, middle)} />}
        {would === null && isAsked && <path className="tracing-gone" d={wholePath(line, frame, middle)} />}
        <text className="tracing-name" x={3} y={13}>
          {T.names(station.ids)}
        </text>
        <text className="tracing-name" x={frame.width - 3} y={13} textAnchor="end">
          {place(station.xMm)}
        </text>
      </svg>
      {isAsked && (changes || would === null || showsOtherSide) && (
        <figcaption className="small">
          {would === null ? T.gone : changes ? T.wouldBe(movedWords(station, would, units)) : T.otherSide}
        </figcaption>
      )}
    </figure>
  );
}

function movedWords(now: LaidStation, would: LaidStation, units: Units): string {
  const up = middleHeight(would.points) - middleHeight(now.points);
  if (Math.abs(up) < 0.05) return '';
  const by = figureText(gapFigure(Math.abs(up), units));
  return up > 0 ? T.higher(by) : T.lower(by);
}

const APART_TIMES = 10;
const APART_STEP_MM = 4;

/** Left less right over the distance from the midline, ten times as large: a few millimetres don't show in true scale. */
function SidesApart({
  station,
  would,
  frame,
}: {
  station: LaidStation;
  would: LaidStation | null;
  frame: SectionFrame;
}) {
  if (station.leftMm === 0 || station.rightMm === 0) return null;
  const base = frame.height - 44;
  const path = ({ line, leftMm, rightMm }: LaidStation): string => {
    let d = '';
    for (let y = 0; y <= Math.min(leftMm, rightMm); y += APART_STEP_MM) {
      const apart = heightAt(line, -y) - heightAt(line, y);
      if (!Number.isFinite(apart)) continue;
      d += `${d === '' ? 'M' : 'L'}${frame.toX(y - 120).toFixed(1)} ${(base - APART_TIMES * apart * frame.pxPerMm).toFixed(1)}`;
    }
    return d;
  };
  return (
    <g>
      <line className="tracing-level" x1={frame.toX(-120)} x2={frame.toX(120)} y1={base} y2={base} />
      <path className="tracing-sides" d={path(station)} />
      {would !== null && differs(station, would) && <path className="tracing-sides would" d={path(would)} />}
      <text className="middle" x={frame.width / 2} y={frame.height - 5}>
        {T.apart(APART_TIMES)}
      </text>
    </g>
  );
}

function heightAt(line: Pairs, y: number): number {
  for (let i = 2; i < line.length; i += 2) {
    if (line[i]! < y) continue;
    const [y0, y1] = [line[i - 2]!, line[i]!];
    if (y < y0) return Number.NaN;
    const share = (y - y0) / (y1 - y0);
    return line[i - 1]! + share * (line[i + 1]! - line[i - 1]!);
  }
  return Number.NaN;
}

const differs = (a: LaidStation, b: LaidStation): boolean =>
  a.line.length !== b.line.length || a.line.some((v, i) => Math.abs(v - b.line[i]!) > 0.05);

function LevelLine({ frame }: { frame: SectionFrame }) {
  return (
    <>
      <line className="tracing-level" x1={4} x2={frame.width - 4} y1={frame.toY(0)} y2={frame.toY(0)} />
      <line className="tracing-centre" x1={frame.toX(0)} x2={frame.toX(0)} y1={18} y2={frame.height - 14} />
    </>
  );
}

const MOST_DOTS = 120;

function Dots({
  points,
  side,
  frame,
  middle,
}: {
  points: Pairs;
  side: 'left' | 'right';
  frame: SectionFrame;
  middle: number;
}) {
  const every = Math.max(1, Math.ceil(points.length / 2 / MOST_DOTS));
  let d = '';
  for (let i = 0; i < points.length; i += 2 * every) {
    const y = points[i]!;
    if (side === 'left' ? y > 0 : y < 0) continue;
    d += `M${frame.toX(y).toFixed(1)} ${frame.toY(points[i + 1]! - middle).toFixed(1)}h0`;
  }
  return <path className="tracing-dots" d={d} />;
}

function Loose({
  id,
  points,
  isAsked,
  frame,
  preview,
  units,
}: {
  id: string;
  points: Pairs;
  isAsked: boolean;
  frame: SectionFrame;
  preview: TracingsLayout | null;
  units: Units;
}) {
  const would = preview?.stations.find(({ ids }) => ids.includes(id));
  return (
    <figure className={isAsked ? 'tracing-panel asked' : 'tracing-panel'}>
      <svg
        width={frame.width}
        height={frame.height}
        viewBox={`0 0 ${frame.width} ${frame.height}`}
        role="img"
        aria-label={T.looseDrawing(id)}
      >
        <LevelLine frame={frame} />
        <path className="tracing-loose" d={wholePath(points, frame, middleHeight(points))} />
        <text className="tracing-name" x={3} y={13}>
          {id}
        </text>
        <text className="tracing-name" x={frame.width - 3} y={13} textAnchor="end">
          {would === undefined ? T.noPlace : T.toPlace(figureText(lengthFigure(would.xMm, units, { decimals: 0 })))}
        </text>
      </svg>
    </figure>
  );
}
