import { compareFits, fitDocuments, readBack, readPattern, SETUP_DEFAULTS } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { DEMO_BACKS, DEMO_PATTERNS, demoBack } from '../files/demos.ts';
import { METRIC, SHOP } from './format.ts';
import { foundIn, sentenceIn } from './sentence.ts';

const inShop = (text: string): string => sentenceIn(text, SHOP);

describe('sentences in the shop’s units', () => {
  test.each([
    ['by 3.2 mm at the front', 'by 0.13 in at the front'],
    ['from 15 to 60 mm', 'from 0.59 to 2 3/8 in'],
    [
      '+4.0 and −1.5 mm (rule 3.0 mm; common practice, no source)',
      '+0.16 and −0.06 in (rule 0.12 in; common practice, no source)',
    ],
    ['15-20 mm is usual', '0.59-13/16 in is usual'],
    ['peak 45.8 kPa over 4.0 cm2', 'peak 6.64 psi over 0.6 in²'],
    ['100 kg and 9.81 N', '220 lb and 2 lbf'],
  ])('%s', (metric, shop) => {
    expect(inShop(metric)).toBe(shop);
    expect(sentenceIn(metric, METRIC)).toBe(metric);
  });

  test.each([
    '12.5 degrees',
    '2.5 kPa/mm',
    '15 to 85 per cent',
    'Equine Vet J 42, 650-653',
    '1.2e+5 mm',
    '1,200 mm',
    'at 3 mmHg',
    'Post 560',
  ])('%s stays', (text) => expect(inShop(text)).toBe(text));

  test('a bare number of a refusal takes the unit of what was expected', () => {
    expect(foundIn('4082.33133', '10 to 300 kg', SHOP)).toBe('9000 lb');
    expect(foundIn('12', '400 to 700 mm', METRIC)).toBe('12 mm');
    expect(foundIn('12 in', '400 to 700 mm', SHOP)).toBe('12 in');
    expect(foundIn('1e9', '400 to 700 mm', SHOP)).toBe('1e9');
    expect(foundIn('3', 'a number of cells from 0 to 50', SHOP)).toBe('3');
  });

  test('of every demo tree on every demo horse, none keeps a metric unit, and no number loses its own', () => {
    const fits = DEMO_PATTERNS.slice(0, 3).flatMap(({ json }) =>
      DEMO_BACKS.map(({ id }) =>
        fitDocuments({
          pattern: readPattern(json),
          back: readBack(demoBack(id)!.json),
          setup: { ...SETUP_DEFAULTS, samples: 1500 },
        }),
      ),
    );
    const said = [
      ...fits.flatMap(({ result }) => result.findings.map(({ sentence }) => sentence)),
      ...fits.slice(1).flatMap(({ result }, i) => compareFits(fits[i]!.result, result)),
    ];
    expect(said.length).toBeGreaterThan(40);
    for (const sentence of said) {
      const shop = inShop(sentence);
      expect(shop).not.toMatch(/\d[ \u2009](mm|kPa|kg|N|cm2)(?![\w/])/);
      // One unit for several numbers with words between them would leave the first ones metric.
      expect(sentence).not.toMatch(/\d, \p{L}+ [+\u2212-]?[\d.]+ (mm|kPa|kg|N|cm2)/u);
      // A unit that only some of its numbers were given would show as a number beside a longer list of its kind.
      expect(shop.match(/\d (in|psi|lb|lbf|in²)(?!\w)/g)?.length ?? 0).toBe(
        sentence.match(/\d (mm|kPa|kg|N|cm2)(?![\w/])/g)?.length ?? 0,
      );
    }
  });
});
