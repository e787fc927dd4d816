import { describe, expect, it } from 'vitest';
import { AMBIGUOUS_MEASURES, ambiguousMeasureError, askAboutMeasure, findChoice } from './ambiguous-measure.ts';

describe('words with more than one meaning', () => {
  it.each([
    ['gullet width', 'gulletWidth'],
    ['gulletWidth', 'gulletWidth'],
    ['Gullet-Width', 'gulletWidth'],
    ['twist', 'twist'],
    ['rock', 'rock'],
    ['crown', 'crown'],
    ['angle', 'barAngle'],
    ['bar angle', 'barAngle'],
  ])('%s is asked about', (word, measure) => {
    expect(askAboutMeasure(word)?.measure).toBe(measure);
  });

  it.each(['length', 'rockRadius', 'crownFront', 'slopeFront', 'constructor', '__proto__', ''])(
    '%j is clear or unknown',
    (word) => {
      expect(askAboutMeasure(word)).toBeNull();
    },
  );

  it('a huge word is unknown', () => {
    expect(askAboutMeasure('twist'.repeat(1e5))).toBeNull();
  });

  it('the refusal lists every choice', () => {
    for (const question of AMBIGUOUS_MEASURES) {
      const error = ambiguousMeasureError(question, { got: '"6 1/2 in"' });
      expect(error.code).toBe('ambiguous');
      for (const choice of question.choices) {
        expect(error.details.remedy).toContain(choice.id);
        expect(findChoice(question, choice.id)).toBe(choice);
      }
      expect(findChoice(question, 'somewhere')).toBeNull();
    }
  });
});
