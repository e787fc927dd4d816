import { setStation, setView, useDocument, useResult, useView } from '../state/index.ts';
import { neighbourStation } from './cut-geometry.ts';
import { StationCut } from './StationCut.tsx';

/** The cut at the station marker; previous and next go through the pattern's stations. */
export function ConnectedCut() {
  const cut = useResult((result) => result.cut);
  const isStale = useResult((result) => result.stale);
  const layersMm = useResult((result) => result.fit?.layersMm ?? 0);
  const length = useResult((result) => Number(result.pattern?.values.length ?? Number.NaN));
  const stations = useDocument((documents) => documents.pattern.stations);
  const setPositionMm = useDocument((documents) => documents.setup.setPositionMm ?? 0);
  const units = useView((view) => view.units);
  const stationXMm = useView((view) => view.stationXMm);
  const places = stations.map(({ name, atPercent }) => ({
    name,
    xMm: Math.round(setPositionMm + (atPercent / 100) * length),
  }));
  const xs = places.map(({ xMm }) => xMm);
  return (
    <StationCut
      cut={cut}
      units={units}
      stationXMm={stationXMm}
      stationName={places.find(({ xMm }) => Math.abs(xMm - stationXMm) < 0.5)?.name ?? null}
      isStale={isStale}
      layersMm={layersMm}
      previousXMm={neighbourStation(xs, stationXMm, -1)}
      nextXMm={neighbourStation(xs, stationXMm, 1)}
      onStation={setStation}
      onClose={() => setView({ cutOpen: false })}
    />
  );
}
