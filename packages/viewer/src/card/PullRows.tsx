import type { Setup } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';
import { ListOf, TextRow } from './list-rows.tsx';
import { type NumberRow, type SetupPane, ValueRow } from './setup-rows.tsx';

const T = TEXTS.pulls;

type Pull = Setup['load']['pulls'][number];

const newPull = (): Pull => ({
  ...{ name: T.one, at: 30, offsetMm: 0, heightMm: 0, rearN: 0, rightN: 0, downN: 100 },
});

/** Further dead forces on the tree: girth at the rigging, one stirrup, a hand on the horn. */
export function PullRows(pane: SetupPane) {
  return (
    <>
      <p className="small soft">{T.help}</p>
      <ListOf
        items={pane.setup.load.pulls}
        path="load.pulls"
        what={T.one}
        most={20}
        make={newPull}
        onSetup={pane.onSetup}
      >
        {(pull, i) => (
          <>
            <TextRow {...pane} path={`load.pulls.${i}.name`} label={`${pull.name}, ${T.name}`} />
            {rowsOf(pull, i).map((row) => (
              <ValueRow key={row.path} {...pane} row={row} />
            ))}
          </>
        )}
      </ListOf>
    </>
  );
}

function rowsOf({ name }: Pull, place: number): NumberRow[] {
  const at = (key: keyof typeof T.fields, rest: Omit<NumberRow, 'path' | 'label'>): NumberRow => ({
    path: `load.pulls.${place}.${key}`,
    label: `${name}, ${T.fields[key]}`,
    ...rest,
  });
  const force = { kind: 'plain', min: -5000, max: 5000, unit: 'N', typedIn: 'N', step: 10 } as const;
  return [
    at('at', { kind: 'percent', min: -20, max: 120 }),
    at('offsetMm', { kind: 'length', min: -500, max: 500 }),
    at('heightMm', { kind: 'length', min: -800, max: 1500 }),
    at('downN', force),
    at('rearN', force),
    at('rightN', force),
  ];
}
