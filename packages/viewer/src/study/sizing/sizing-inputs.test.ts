import { listChoices, readPattern, readShelf } from '@barwright/geometry';
import { expect, it } from 'vitest';
import { sizingInputs } from './sizing-inputs.ts';

it('the shelves that are offered can all be made; the second has tips that give beside rigid ones', () => {
  const bars = sizingInputs.getState().shelves.map(({ json, pattern, fileName }) => {
    const choices = listChoices(readShelf(json, fileName), readPattern(pattern));
    return choices.map((choice) => choice.bars);
  });
  expect(bars.map((all) => all.length)).toEqual([30, 36]);
  expect(bars[0]).not.toContain('flexible');
  expect(bars[1]!.filter((one) => one === 'flexible')).toHaveLength(18);
});
