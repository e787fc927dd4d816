import type { Reach } from '@barwright/geometry';
import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react';
import type { Units } from '../../look/format.ts';
import { REACH_TEXTS } from '../../look/texts/reach.ts';
import { allWords, type MapPlace, middleOf, nodeAt, placeWords, showsWords } from './node-words.ts';
import type { ReachView } from './reach-service.ts';

const T = REACH_TEXTS.map;

const SVG = 'http://www.w3.org/2000/svg';

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The map's border on the sheet: the frame is its only square with a line this heavy. */
function frameOf(sheet: Element): Box | null {
  const border = sheet.querySelector('rect[fill="none"][stroke-width="1.2"]');
  if (border === null) return null;
  const [x, y, width, height] = ['x', 'y', 'width', 'height'].map((name) => Number(border.getAttribute(name)));
  return { x: x!, y: y!, width: width!, height: height! };
}

/** The sheet as it is printed; pointing at it, or the arrow keys, reads a node. */
export function ReachMap({ view, units }: { view: ReachView; units: Units }) {
  const { reach, svg } = view;
  const holder = useRef<HTMLDivElement>(null);
  const [frame, setFrame] = useState<Box | null>(null);
  const [place, setPlace] = useState<MapPlace>(() => middleOf(reach));
  useEffect(() => {
    const sheet = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    sheet.removeAttribute('width');
    sheet.removeAttribute('height');
    sheet.setAttribute('aria-hidden', 'true');
    holder.current?.replaceChildren(document.importNode(sheet, true));
    setFrame(frameOf(sheet));
    setPlace(middleOf(reach));
  }, [svg, reach]);
  useEffect(() => markNode(holder.current?.querySelector('svg') ?? null, frame, reach, place), [frame, reach, place]);
  const node = nodeAt(reach, place);
  const says = `${placeWords(reach, place, units)}: ${showsWords(node)}`;
  const follow = (event: PointerEvent): void => {
    const next = frame === null ? null : placeUnder(holder.current?.querySelector('svg') ?? null, frame, reach, event);
    if (next !== null) setPlace(next);
  };
  const step = (event: KeyboardEvent): void => {
    const by = STEPS[event.key];
    if (by === undefined) return;
    event.preventDefault();
    setPlace(({ column, row }) => ({
      column: within(column + by[0], reach.slopesDeg.length),
      row: within(row + by[1], reach.sagsMm.length),
    }));
  };
  return (
    <>
      <p className="reach-says" aria-hidden="true">
        <strong>{placeWords(reach, place, units)}</strong>: {showsWords(node)}
        <span className="small soft reach-all">{allWords(node) === '' ? T.nothing : T.times(allWords(node))}</span>
      </p>
      <div
        ref={holder}
        className="reach-sheet"
        role="slider"
        aria-label={T.label}
        aria-valuemin={0}
        aria-valuemax={reach.nodes.length - 1}
        aria-valuenow={place.row * reach.slopesDeg.length + place.column}
        aria-valuetext={says}
        tabIndex={0}
        onPointerMove={follow}
        onPointerDown={follow}
        onKeyDown={step}
      />
    </>
  );
}

const STEPS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

const within = (value: number, count: number): number => Math.min(count - 1, Math.max(0, value));

function placeUnder(
  sheet: SVGSVGElement | null,
  frame: Box,
  { slopesDeg, sagsMm }: Reach,
  { clientX, clientY }: PointerEvent,
): MapPlace | null {
  const matrix = sheet?.getScreenCTM()?.inverse();
  if (matrix === undefined) return null;
  const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(matrix);
  const [across, up] = [(x - frame.x) / frame.width, 1 - (y - frame.y) / frame.height];
  if (across < -0.03 || across > 1.03 || up < -0.03 || up > 1.03) return null;
  return {
    column: within(Math.round(across * (slopesDeg.length - 1)), slopesDeg.length),
    row: within(Math.round(up * (sagsMm.length - 1)), sagsMm.length),
  };
}

/** A ring round the node that is read, on the screen's copy only. */
function markNode(sheet: SVGSVGElement | null, frame: Box | null, { slopesDeg, sagsMm }: Reach, place: MapPlace): void {
  if (sheet === null || frame === null) return;
  const ring = sheet.querySelector('.read-node') ?? sheet.appendChild(document.createElementNS(SVG, 'circle'));
  ring.setAttribute('class', 'read-node');
  ring.setAttribute('cx', String(frame.x + (frame.width * place.column) / (slopesDeg.length - 1)));
  ring.setAttribute('cy', String(frame.y + frame.height * (1 - place.row / (sagsMm.length - 1))));
  ring.setAttribute('r', '11');
}
