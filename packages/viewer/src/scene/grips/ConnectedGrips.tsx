import { useLayoutEffect, useMemo } from 'react';
import { useIsAsking } from '../../lesson/asking.ts';
import { barSideOf, shapeChange } from '../../ruler/bar-side.ts';
import { setSetup, setStation, setValue, useDocument, useResult, useView } from '../../state/index.ts';
import { useMeasuring } from '../measure-store.ts';
import { useShown } from '../shown-store.ts';
import { useBars } from '../use-bars.ts';
import { GripKnobs } from './GripKnobs.tsx';
import type { GripHand } from './grip-store.ts';
import { type Grip, gripsOf } from './grips-of.ts';

/** What can be taken hold of in the picture of the open documents; nothing while it shows something else or asks. */
export function ConnectedGrips({ hand }: { hand: GripHand }) {
  const isBusy = [useShown() !== null, useIsAsking(), useMeasuring().isOn].includes(true);
  const bars = useBars();
  const pattern = useResult((result) => result.pattern);
  const stationXMm = useView((view) => view.stationXMm);
  const near = useView((view) => (view.from === 'right' ? 'right' : 'left'));
  const setPositionMm = useDocument((documents) => documents.setup.setPositionMm) ?? -30;
  const side = useMemo(() => (pattern === null ? null : barSideOf(pattern)), [pattern]);
  const grips = useMemo(
    () => (isBusy ? [] : gripsOf(bars, side, { stationXMm, setPositionMm, near })),
    [isBusy, bars, side, stationXMm, setPositionMm, near],
  );
  useLayoutEffect(() => {
    hand.grips = grips;
  }, [hand, grips]);
  const pull = ({ name, mm: from }: Grip, mm: number): void => {
    if (name === 'station') setStation(mm);
    else if (name === 'set') setSetup('setPositionMm', mm);
    else if (side !== null) setValue(...shapeChange(side, name, mm, from));
  };
  return <GripKnobs hand={hand} grips={grips} onPull={pull} />;
}
