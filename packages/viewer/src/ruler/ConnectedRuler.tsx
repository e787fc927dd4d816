import { useMemo } from 'react';
import {
  beginDrag,
  endDrag,
  setSetup,
  setStation,
  setValue,
  setView,
  useDocument,
  useResult,
  useView,
} from '../state/index.ts';
import { barSideOf, shapeChange } from './bar-side.ts';
import { Ruler } from './Ruler.tsx';

/** The ruler's text, 13 px in this look, comes to 28 px on a projector of 1920. */
const roomZoom = (windowPx: number): number => Math.max(1.2, (2.16 * windowPx) / 1920);

/** The ruler of the open documents. How the tree rests is one choice for ruler and picture. */
export function ConnectedRuler() {
  const fit = useResult((result) => result.fit);
  const back = useResult((result) => result.back);
  const isStale = useResult((result) => result.stale);
  const pattern = useResult((result) => result.pattern);
  const setPositionMm = useDocument((documents) => documents.setup.setPositionMm);
  const loadAt = useDocument((documents) => documents.setup.load?.at ?? null);
  const view = useView((state) => state);
  const finding = view.selectedFinding === null ? null : (fit?.result.findings[view.selectedFinding] ?? null);
  const value = (key: string): number => Number(pattern?.values[key] ?? Number.NaN);
  const bar =
    pattern === null
      ? null
      : {
          lengthMm: value('length'),
          flareFrontMm: value('flareZoneFront'),
          flareRearMm: value('flareZoneRear'),
        };
  const barSide = useMemo(() => (pattern === null ? null : barSideOf(pattern)), [pattern]);
  return (
    <Ruler
      fit={fit}
      back={back}
      units={view.units}
      stationXMm={view.stationXMm}
      setPositionMm={setPositionMm ?? -30}
      loadAtPercent={loadAt === 'seat' ? (value('seatLow') / value('length')) * 100 : loadAt}
      bar={bar}
      barSide={barSide}
      exaggeration={view.exaggeration}
      zoom={view.projector ? roomZoom(window.innerWidth) : 1}
      limits={view.clearanceScale}
      marked={finding}
      isStale={isStale}
      isLaidOn={view.isLaidOn}
      onLaidOn={(isLaidOn) => setView(isLaidOn ? { isLaidOn, colour: 'clearance' } : { isLaidOn })}
      onExaggeration={(exaggeration) => setView({ exaggeration })}
      onStation={setStation}
      onSetPosition={(mm) => setSetup('setPositionMm', mm)}
      onLoadAt={(percent) => setSetup('load.at', percent)}
      onShape={(name, mm, from) => {
        if (barSide === null) return;
        const [key, value] = shapeChange(barSide, name, mm, from);
        setValue(key, value);
      }}
      onOpenCut={() => setView({ cutOpen: true })}
      onDragStart={beginDrag}
      onDragEnd={endDrag}
    />
  );
}
