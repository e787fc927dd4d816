import { useThree } from '@react-three/fiber';
import { type RefObject, useEffect, useMemo, useState } from 'react';
import { useIsAsking } from '../lesson/asking.ts';
import { useResult, useView } from '../state/hooks.ts';
import { Back } from './Back.tsx';
import { Bar } from './Bar.tsx';
import { type ColourTable, plainTable } from './build/colour-table.ts';
import type { ContourLevel } from './build/contour-levels.ts';
import { exaggerate } from './build/exaggerate.ts';
import type { ProbePlace } from './build/probe.ts';
import { DistanceLines } from './DistanceLines.tsx';
import { Ghost } from './Ghost.tsx';
import { GripPlaces } from './grips/GripPlaces.tsx';
import type { GripHand } from './grips/grip-store.ts';
import { type Label, LabelMarks } from './Labels.tsx';
import { MovingBack } from './MovingBack.tsx';
import { pointOf, takePoint, useMeasuring } from './measure-store.ts';
import { Orbit } from './Orbit.tsx';
import { PictureTaker } from './PictureTaker.tsx';
import { Place } from './Place.tsx';
import { PointerProbe } from './PointerProbe.tsx';
import { SCENE_PALETTES } from './palette.ts';
import { SectionPlane } from './SectionPlane.tsx';
import { Station } from './Station.tsx';
import { Studio } from './Studio.tsx';
import { useShown } from './shown-store.ts';
import { type BarPair, useBackInView, useBars } from './use-bars.ts';
import { useLook } from './use-look.ts';

/** Bars, fork and cantle of every demo at their usual set position. */
const BOX = { min: [-70, -200, -60], max: [600, 200, 255] } as const;

/** The wood of both looks, between them. */
const PLAIN_WOOD = [0.84, 0.69, 0.48] as const;
const UNANSWERED: readonly [ColourTable, readonly ContourLevel[]] = [plainTable(PLAIN_WOOD), []];

export interface PictureProps {
  readonly labels: readonly Label[];
  readonly holder: RefObject<HTMLDivElement | null>;
  readonly hand: GripHand;
  /** Tests: no smoothing of edges, one pixel per pixel, no swing of the camera. */
  readonly plain: boolean;
}

/** The canvas. Draws only when something changed. */
export default function Picture({ labels, holder, hand, plain }: PictureProps) {
  const theme = useView((view) => view.theme);
  const palette = SCENE_PALETTES[theme];
  return (
    <Studio palette={palette}>
      <Things labels={labels} holder={holder} hand={hand} plain={plain} />
    </Studio>
  );
}

function Things({ labels, holder, hand, plain }: PictureProps) {
  const { invalidate } = useThree();
  const fit = useResult((result) => result.fit);
  const back = useResult((result) => result.back);
  const from = useView((view) => view.from);
  const asked = useView((view) => view.fromAsked);
  const theme = useView((view) => view.theme);
  const stationXMm = useView((view) => view.stationXMm);
  const showBack = useView((view) => view.showBack);
  const showGhost = useView((view) => view.showGhost);
  const isLaidOn = useView((view) => view.isLaidOn);
  const shown = useShown();
  const isCut = useView((view) => view.isCut);
  const isMeasuring = useMeasuring().isOn;
  const isAsking = useIsAsking();
  const [isUnder, setUnder] = useState(false);
  const palette = SCENE_PALETTES[theme];
  const times = useView((view) => view.bendingTimes);
  const bars = useBars();
  const drawn = useMemo(
    () => (bars === null ? null : { left: exaggerate(bars.left, times), right: exaggerate(bars.right, times) }),
    [bars, times],
  );
  const cutBack = useBackInView();
  const pick = (place: ProbePlace): void => {
    const point = isMeasuring ? pointOf(place, bars) : null;
    if (point !== null) takePoint(point);
  };
  const tree = shown?.tree ?? (isLaidOn ? fit?.laidOnTree : fit?.tree);
  // biome-ignore lint/correctness/useExhaustiveDependencies: any of these changes the picture
  useEffect(() => invalidate(), [theme, showBack, showGhost, isUnder, back, shown, invalidate]);
  return (
    <>
      <Orbit from={from} asked={asked} box={BOX} still={plain} onUnder={setUnder} />
      {shown !== null && showBack && (
        <MovingBack back={shown.back} moved={shown.moved} palette={palette} ghosted={isUnder} />
      )}
      {shown === null && back !== null && showBack && <Back back={back} palette={palette} ghosted={isUnder} />}
      {bars !== null && drawn !== null && <Bars bars={bars} drawn={drawn} />}
      <PointerProbe bars={drawn} back={showBack ? cutBack : null} onPick={pick} />
      <SectionPlane xMm={stationXMm} isCut={isCut} />
      <PictureTaker />
      <DistanceLines colour={palette.accent} />
      {tree !== undefined && showGhost && <Ghost tree={tree} palette={palette} />}
      {fit !== null && !isAsking && <Place fit={fit} colour={palette.accent} />}
      <Station xMm={stationXMm} back={cutBack} palette={palette} />
      <GripPlaces hand={hand} />
      <LabelMarks labels={labels} holder={holder} colour={palette.accent} />
    </>
  );
}

/** Colours are those of the bars as computed, on the bars as drawn. */
function Bars({ bars, drawn }: { bars: BarPair; drawn: BarPair }) {
  const look = useLook();
  const isAsking = useIsAsking();
  const seeThrough = useView((view) => view.barsSeeThrough);
  const theme = useView((view) => view.theme);
  const { valuesOf } = look;
  const [left, right] = useMemo(() => [valuesOf(bars.left), valuesOf(bars.right)], [bars, valuesOf]);
  const [table, levels] = isAsking ? UNANSWERED : [look.table, look.levels];
  const shared = { table, levels, palette: SCENE_PALETTES[theme], seeThrough };
  return (
    <group>
      <Bar bar={drawn.left} values={left} {...shared} />
      <Bar bar={drawn.right} values={right} {...shared} />
    </group>
  );
}
