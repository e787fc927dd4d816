import { useMemo } from 'react';
import { beginDrag, endDrag, setSetup, setValue, useDocument, useResult, useView } from '../state/index.ts';
import { planOf } from './plan-of.ts';
import { SetupCard } from './SetupCard.tsx';
import { SpecCard } from './SpecCard.tsx';
import { Versions } from './Versions.tsx';

const NO_SOLIDS = Object.freeze({});
const NOTHING_HELD: readonly string[] = [];

/** The spec card of the open pattern. */
export function ConnectedSpecCard() {
  const name = useDocument((documents) => documents.pattern.name);
  const view = useResult((result) => result.pattern);
  const units = useView((state) => state.units);
  const held = useDocument(({ lesson }) => lesson?.document.steps[lesson.step]?.locked ?? NOTHING_HELD);
  return (
    <>
      <SpecCard
        name={name}
        view={view}
        units={units}
        onValue={setValue}
        onDragStart={beginDrag}
        onDragEnd={endDrag}
        held={held}
      />
      <Versions />
    </>
  );
}

/** The setup of the open documents. */
export function ConnectedSetupCard() {
  const setup = useDocument((documents) => documents.setup);
  const units = useView((state) => state.units);
  const view = useResult((result) => result.pattern);
  const stations = useDocument((documents) => documents.pattern.stations);
  const plan = useMemo(() => (view === null ? null : planOf(view, stations)), [view, stations]);
  return (
    <SetupCard
      setup={setup}
      units={units}
      solids={view?.materials ?? NO_SOLIDS}
      plan={plan}
      onSetup={setSetup}
      onDragStart={beginDrag}
      onDragEnd={endDrag}
    />
  );
}
