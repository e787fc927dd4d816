import type { InputErrorDetails } from '@barwright/geometry';
import { useMemo, useState } from 'react';
import { DEMO_BACKS, demoBack } from '../../files/demos.ts';
import { type OpenedBack, useDocument } from '../../state/index.ts';
import { readBacks } from './open-backs.ts';
import type { ListedBack } from './two-backs-service.ts';

/** The id of the back that lies on the bench. */
export const ON_BENCH = 'bench';

const keys = new WeakMap<OpenedBack, string>();
let lastKey = 0;

/** The same for the same opened back, so that the worker finds it built, and never another's. */
function keyOf(back: OpenedBack): string {
  const known = keys.get(back);
  if (known !== undefined) return known;
  lastKey += 1;
  const key = `opened ${lastKey}`;
  keys.set(back, key);
  return key;
}

/** Bench, demo shelf and opened files: what may be chosen, what was refused, and a way to open more. */
export function useShelf() {
  const bench = useDocument((documents) => documents.back);
  const [opened, setOpened] = useState<readonly ListedBack[]>([]);
  const [problems, setProblems] = useState<readonly InputErrorDetails[]>([]);
  const list = useMemo<readonly ListedBack[]>(
    () => [
      { id: ON_BENCH, key: keyOf(bench), back: bench },
      ...opened,
      ...DEMO_BACKS.flatMap(({ id }) => {
        const back = demoBack(id);
        return back === null ? [] : [{ id: `demo ${id}`, key: `demo ${id}`, back }];
      }),
    ],
    [bench, opened],
  );
  const open = async (files: readonly File[]): Promise<void> => {
    const read = await readBacks(files);
    setProblems(read.refused);
    setOpened((now) => [
      ...now,
      ...read.backs.map(({ fileName, back }, i) => ({
        id: `file ${now.length + i} ${fileName}`,
        key: keyOf(back),
        back,
      })),
    ]);
  };
  return { list, problems, open };
}
