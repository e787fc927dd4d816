import { type ReactNode, useRef } from 'react';
import type { CutBar, CutView } from '../contract.ts';
import { Figure } from '../look/Figure.tsx';
import { angleFigure, figureText, gapFigure, lengthFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { sayGap } from '../ruler/GapBand.tsx';
import { useWidth } from '../ruler/use-width.ts';
import { bodyPath, type CutWindow, cutPath, cutWindow, missingStretches, raisedLine } from './cut-geometry.ts';

const T = TEXTS.cut;

export interface StationCutProps {
  readonly cut: CutView | null;
  readonly units: Units;
  readonly stationXMm: number;
  /** Name of the pattern's station the marker stands on, if it does. */
  readonly stationName: string | null;
  readonly isStale: boolean;
  /** Uncompressed thickness of the layers, mm. */
  readonly layersMm: number;
  readonly previousXMm: number | null;
  readonly nextXMm: number | null;
  readonly onStation: (xMm: number) => void;
  readonly onClose?: () => void;
}

/** Crosswise section at the marker, seen from behind the horse: left on the left. */
export function StationCut(props: StationCutProps) {
  const { cut, units, stationXMm, stationName, isStale } = props;
  return (
    <section className="cut" aria-label={T.title}>
      <div className="cut-head">
        <h2>
          {T.title} {stationName !== null && `${stationName}, `}
          <Figure of={lengthFigure(stationXMm, units, { decimals: 0 })} /> {T.behindBlade}
        </h2>
        <span className="cut-buttons">
          <Go to={props.previousXMm} onStation={props.onStation}>
            {T.previous}
          </Go>
          <Go to={props.nextXMm} onStation={props.onStation}>
            {T.next}
          </Go>
          {props.onClose !== undefined && (
            <button type="button" onClick={props.onClose}>
              {T.close}
            </button>
          )}
        </span>
      </div>
      {cut === null ? (
        <p className="soft">{T.empty}</p>
      ) : (
        <div className={isStale ? 'cut-body stale' : 'cut-body'}>
          <CutDrawing cut={cut} units={units} layersMm={props.layersMm} />
          <CutFigures cut={cut} units={units} />
        </div>
      )}
    </section>
  );
}

function Go({ to, onStation, children }: { to: number | null; onStation: (x: number) => void; children: ReactNode }) {
  return (
    <button type="button" disabled={to === null} onClick={() => to !== null && onStation(to)}>
      {children}
    </button>
  );
}

function CutDrawing({ cut, units, layersMm }: { cut: CutView; units: Units; layersMm: number }) {
  const holder = useRef<HTMLDivElement>(null);
  const width = useWidth(holder, 640);
  const height = Math.round(Math.min(300, Math.max(150, width * 0.5)));
  const window = cutWindow(cut, width, height, 22);
  return (
    <div ref={holder} className="cut-drawing">
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={describeCut(cut, units)}
      >
        <defs>
          <pattern id="cut-hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <line className="hatch" x1="0" x2="0" y1="0" y2="6" />
          </pattern>
        </defs>
        {window === null ? (
          <text x={width / 2} y={height / 2} textAnchor="middle">
            {TEXTS.noData}
          </text>
        ) : (
          <CutLines cut={cut} window={window} width={width} height={height} layersMm={layersMm} units={units} />
        )}
      </svg>
    </div>
  );
}

function CutLines({
  cut,
  window,
  width,
  height,
  layersMm,
  units,
}: {
  cut: CutView;
  units: Units;
  window: CutWindow;
  width: number;
  height: number;
  layersMm: number;
}) {
  const level = height - 16;
  return (
    <g>
      {missingStretches(cut.back).map(([from, to]) => (
        <rect
          key={from}
          className="no-data"
          x={window.toX(from)}
          y={0}
          width={Math.max(0, window.toX(to) - window.toX(from))}
          height={height}
        />
      ))}
      <line className="centre" x1={width / 2} x2={width / 2} y1={4} y2={height - 4} />
      <text className="note" x={width / 2 + 5} y={13}>
        {T.centre}
      </text>
      <path className="level" d={`M12 ${level}H72M12 ${level - 4}V${level + 4}M72 ${level - 4}V${level + 4}`} />
      <text className="note" x={78} y={level + 4}>
        {T.level}
      </text>
      <text className="note" x={width - 8} y={level + 4} textAnchor="end">
        {T.trueScale}
      </text>
      <path className="back-line" d={cutPath(cut.back, window)} />
      {layersMm > 0 && <PadTop line={raisedLine(cut.back, layersMm)} window={window} />}
      {(['left', 'right'] as const).map((side) => {
        const bar = cut[side];
        return bar === null ? null : <CutBody key={side} side={side} bar={bar} window={window} units={units} />;
      })}
    </g>
  );
}

/** Where the layers end while nothing presses on them: squeeze is how far a bar dips below it. */
function PadTop({ line, window }: { line: Float32Array; window: CutWindow }) {
  const top = Math.floor(line.length / 4) * 2;
  return (
    <g>
      <path className="pad-line" d={cutPath(line, window)} />
      {!Number.isNaN(line[top + 1]!) && (
        <text className="note" x={window.toX(line[top]!) - 5} y={window.toY(line[top + 1]!) - 6} textAnchor="end">
          {T.padTop}
        </text>
      )}
    </g>
  );
}

function CutBody({
  side,
  bar,
  window,
  units,
}: {
  side: 'left' | 'right';
  bar: CutBar;
  window: CutWindow;
  units: Units;
}) {
  const middle = Math.floor(bar.top.length / 4) * 2;
  return (
    <g>
      <path className="body" d={bodyPath(bar, window)} />
      <path className="bar-line" d={cutPath(bar.underside, window)} />
      <text
        className="side-name"
        x={window.toX(bar.top[middle]!)}
        y={window.toY(bar.top[middle + 1]!) - 14}
        textAnchor="middle"
      >
        {TEXTS[side]}
      </text>
      <EdgeGap
        gapMm={bar.gapInnerMm}
        y={bar.underside[0]!}
        z={bar.underside[1]!}
        anchor={side === 'left' ? 'start' : 'end'}
        roomPx={Math.abs(window.toX(0) - window.toX(bar.underside[0]!))}
        window={window}
        units={units}
      />
      <EdgeGap
        gapMm={bar.gapOuterMm}
        y={bar.underside[bar.underside.length - 2]!}
        z={bar.underside[bar.underside.length - 1]!}
        anchor={side === 'left' ? 'end' : 'start'}
        window={window}
        units={units}
      />
    </g>
  );
}

/** Less room than this, and a word with its figure would run into that of the other side. */
const WORD_PX = 72;

/**
 * Clearance of an edge beside it, inner edges towards the centre line and outer ones away from it; + clear, - squeeze where
 * there is no room for the word.
 */
function EdgeGap({
  gapMm,
  y,
  z,
  anchor,
  roomPx = Number.POSITIVE_INFINITY,
  window,
  units,
}: {
  anchor: 'start' | 'end';
  roomPx?: number;
  gapMm: number | null;
  y: number;
  z: number;
  window: CutWindow;
  units: Units;
}) {
  if (gapMm === null) return null;
  const figure = figureText({ ...gapFigure(Math.abs(gapMm), units), unit: '' });
  const signed = figureText({ ...gapFigure(gapMm, units, { signed: true }), unit: '' });
  return (
    <text
      className={gapMm >= 0 ? 'edge-gap clear' : 'edge-gap squeeze'}
      x={window.toX(y)}
      y={window.toY(z) + 18}
      textAnchor={anchor}
    >
      {roomPx < WORD_PX ? signed : `${gapMm >= 0 ? TEXTS.clear : TEXTS.squeeze} ${figure}`}
    </text>
  );
}

function CutFigures({ cut, units }: { cut: CutView; units: Units }) {
  const rows: readonly [string, (bar: CutBar) => ReactNode][] = [
    [`${T.slope}, ${T.bar}`, (bar) => <Figure of={angleFigure(bar.barSlopeDeg)} />],
    [`${T.slope}, ${T.back}`, (bar) => <Figure of={angleFigure(bar.backSlopeDeg)} />],
    [T.mismatch, (bar) => sayMismatch(bar)],
    [`${T.gap}, ${T.inner}`, (bar) => sayGap(bar.gapInnerMm, units)],
    [`${T.gap}, ${T.middle}`, (bar) => sayGap(bar.gapMiddleMm, units)],
    [`${T.gap}, ${T.outer}`, (bar) => sayGap(bar.gapOuterMm, units)],
  ];
  return (
    <table className="cut-figures">
      <thead>
        <tr>
          <th scope="col">
            <span className="visually-hidden">{T.gap}</span>
          </th>
          <th scope="col">{TEXTS.left}</th>
          <th scope="col">{TEXTS.right}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(([name, show]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            {([cut.left, cut.right] as const).map((bar, i) => (
              <td key={i === 0 ? 'left' : 'right'}>{bar === null ? T.noBar : show(bar)}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function sayMismatch(bar: CutBar): ReactNode {
  if (bar.backSlopeDeg === null) return TEXTS.noData;
  const mismatch = bar.barSlopeDeg - bar.backSlopeDeg;
  const words = Math.abs(mismatch) < 0.05 ? '' : mismatch > 0 ? T.steeper : T.flatter;
  return (
    <>
      <Figure of={angleFigure(mismatch, true)} /> {words}
    </>
  );
}

function describeCut(cut: CutView, units: Units): string {
  const side = (name: string, bar: CutBar | null): string =>
    `${name}: ${bar === null ? T.noBar : `${T.inner} ${sayGap(bar.gapInnerMm, units)}, ${T.outer} ${sayGap(bar.gapOuterMm, units)}`}`;
  return `${T.title}. ${side(TEXTS.left, cut.left)}. ${side(TEXTS.right, cut.right)}.`;
}
