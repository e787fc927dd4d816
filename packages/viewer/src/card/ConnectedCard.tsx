import { beginDrag, endDrag, setSetup, setValue, useDocument, useResult, useView } from '../state/index.ts';
import { SetupCard } from './SetupCard.tsx';
import { SpecCard } from './SpecCard.tsx';

const NO_SOLIDS = Object.freeze({});

/** The spec card of the open pattern. */
export function ConnectedSpecCard() {
  const name = useDocument((documents) => documents.pattern.name);
  const view = useResult((result) => result.pattern);
  const units = useView((state) => state.units);
  return (
    <SpecCard name={name} view={view} units={units} onValue={setValue} onDragStart={beginDrag} onDragEnd={endDrag} />
  );
}

/** The setup of the open documents. */
export function ConnectedSetupCard() {
  const setup = useDocument((documents) => documents.setup);
  const units = useView((state) => state.units);
  const solids = useResult((result) => result.pattern?.materials ?? NO_SOLIDS);
  return (
    <SetupCard
      setup={setup}
      units={units}
      solids={solids}
      onSetup={setSetup}
      onDragStart={beginDrag}
      onDragEnd={endDrag}
    />
  );
}
