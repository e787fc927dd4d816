import { expect, test } from 'vitest';
import { VIEW_DEFAULTS } from '../state/view-state.ts';
import { withView } from './camera-store.ts';

test('a view keeps camera, colour and what is shown; the same name again replaces it', () => {
  const camera = { position: [1, 2, 3], target: [4, 5, 6] } as const;
  const first = withView([], 'front', { ...VIEW_DEFAULTS, colour: 'pressure', isLaidOn: false, isCut: true }, camera);
  expect(first).toHaveLength(1);
  expect(first[0]).toMatchObject({
    name: 'front',
    camera,
    shown: { colour: 'pressure', isLaidOn: false, isCut: true },
  });
  const more = withView(withView(first, 'rear', VIEW_DEFAULTS, null), 'front', VIEW_DEFAULTS, null);
  expect(more.map(({ name, shown }) => [name, shown.colour])).toEqual([
    ['rear', 'clearance'],
    ['front', 'clearance'],
  ]);
  // It comes back from a store of plain data, and brings no units, theme or scale with it.
  expect(structuredClone(more)).toEqual(more);
  expect(more[0]!.shown).not.toHaveProperty('units');
});
