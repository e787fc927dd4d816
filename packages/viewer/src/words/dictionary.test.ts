import { describe, expect, test } from 'vitest';
import { WORD_IDS, WORDS, wordsIn } from './dictionary.ts';

describe('trade words', () => {
  test.each([
    ['Bar spread', ['spread']],
    ['Included angle', ['bar angle']],
    ['Sag of the rock', ['rock']],
    ['Rocks: the middle bears', ['rocking']],
    ['Clearance at the fork', ['spine clearance']],
    ["Bridges: laid on, daylight opens, mostly because the bar's rock is flatter than this back", ['bridging', 'rock']],
    ['Outer (lower) edge of both bars bears in the middle third', ['edge bearing']],
    ['Bearing of both bars passes the last rib by 38 mm, on the loin', ['last rib']],
    ['Load front / middle / rear', []],
    ['rocket', []],
  ])('%s', (text, found) => {
    expect(wordsIn(text)).toEqual(found);
  });

  test('every word is found under its own name, says one sentence and has a drawing that fits its box', () => {
    for (const id of WORD_IDS) {
      const { name, means, drawing } = WORDS[id];
      expect(wordsIn(name), id).toContain(id);
      expect(means.match(/\.(\s|$)/g), id).toHaveLength(1);
      expect(drawing.strokes.length, id).toBeGreaterThan(1);
      for (const [x, y] of drawing.texts) expect(x >= 0 && x < 200 && y > 8 && y < 108, id).toBe(true);
    }
  });
});
