import { useEffect, useState } from 'react';
import { useIsAsking } from '../lesson/asking.ts';
import { Figure } from '../look/Figure.tsx';
import { TEXTS } from '../look/texts.ts';
import { useView } from '../state/hooks.ts';
import { type ProbePlace, placeAcross, readCell } from './build/probe.ts';
import { pointOf, takePoint, useMeasuring } from './measure-store.ts';
import { stepAcross, useProbe } from './probe-store.ts';
import { backLines, cellLines, spoken } from './probe-words.ts';
import { type BarPair, useBars } from './use-bars.ts';

const T = TEXTS.looking;

/** Numbers under the probe, always in the same place; a slider moves it across the bars at the station marker. */
export function ProbeLine() {
  const bars = useBars();
  const units = useView((view) => view.units);
  const stationXMm = useView((view) => view.stationXMm);
  const { place: pointed, across } = useProbe();
  const isAsking = useIsAsking();
  const isMeasuring = useMeasuring().isOn;
  if (bars === null || isAsking) return null;
  const place = across === null ? pointed : placeAcross(bars, across, stationXMm);
  // A place pointed at before the number of cells changed is a place of another net.
  const cell = place?.on === 'bar' && place.cell < bars[place.side].bMm.length ? place : null;
  const reading = cell === null ? null : readCell(bars[cell.side], cell.side, cell.cell);
  const onBack = place?.on === 'back' ? place : null;
  const lines = reading !== null ? cellLines(reading, units) : onBack !== null ? backLines(onBack, units) : [];
  const title =
    reading !== null
      ? `${reading.side === 'left' ? T.leftBar : T.rightBar}${reading.isSlot ? T.inSlot : ''}${reading.hasData ? '' : T.hatchedHere}`
      : onBack !== null
        ? T.onBack
        : across === null
          ? T.howToProbe
          : T.noBarHere;
  const takeHere = (at: ProbePlace): void => {
    const point = pointOf(at, bars);
    if (point !== null) takePoint(point);
  };
  return (
    <section className="probe" aria-label={T.probe}>
      <Across bars={bars} across={across} says={lines.length === 0 ? title : spoken(title, lines)} />
      {isMeasuring && place !== null && (
        <button type="button" onClick={() => takeHere(place)}>
          {T.takePoint}
        </button>
      )}
      <span className="probe-title">{title}</span>
      <dl className="probe-lines">
        {lines.map(({ name, figure }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>
              <Figure of={figure} />
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

/** A pause before it is said, so that held keys don't pile up sentences. */
const PAUSE_MS = 350;

function Across({ bars, across, says }: { bars: BarPair; across: number | null; says: string }) {
  const [said, setSaid] = useState('');
  useEffect(() => {
    const timer = setTimeout(() => setSaid(across === null ? '' : says), PAUSE_MS);
    return () => clearTimeout(timer);
  }, [across, says]);
  return (
    <label className="probe-across">
      {T.across}
      <input
        type="range"
        min={0}
        max={bars.left.columns + bars.right.columns - 1}
        step={1}
        value={across ?? bars.left.columns}
        aria-label={T.acrossLabel}
        aria-valuetext={across === null ? T.acrossOff : says}
        onChange={(event) => stepAcross(event.currentTarget.valueAsNumber)}
      />
      <span className="visually-hidden" aria-live="polite">
        {said}
      </span>
    </label>
  );
}
