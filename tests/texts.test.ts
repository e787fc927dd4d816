import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { ALL_TEXTS } from '../packages/viewer/src/look/all-texts.ts';
import { inlineTexts } from './support/inline-texts.ts';

/** Every fixed text of the page stands in one typed dictionary: look/texts, with the trade's words in words/dictionary.ts. */
const VIEWER = new URL('../packages/viewer/src/', import.meta.url);

/** Names by which documents, desks and the geometry know things, and a fault that only a programmer meets. */
const NO_TEXTS = new Set([
  ...['set position', 'bearing line', 'core bearing zone', 'spine clearance'],
  ...['tips and relief', 'stirrup slot', 'seat and fork', 'front tip', 'rear tip'],
  ...['low points', 'front tips', 'best fit', 'clicked sheet', 'over pad', 'not stated', 'pattern parts'],
  ...['input, select', 'input, select, textarea'],
  'back … was never sent',
]);

const sources = readdirSync(VIEWER, { recursive: true, encoding: 'utf8' })
  .map((name) => name.replaceAll('\\', '/'))
  .filter((name) => /\.tsx?$/.test(name) && !/\.(test|fixture|d)\.ts$/.test(name))
  .filter((name) => !name.startsWith('look/texts') && name !== 'words/dictionary.ts');

test('no part of the page has a text of its own beside the dictionary', () => {
  const found = sources.flatMap((name) =>
    inlineTexts(name, readFileSync(fileURLToPath(new URL(name, VIEWER)), 'utf8'))
      .filter((line) => !NO_TEXTS.has(line.replace(/^\d+: /, '')))
      .map((line) => `${name}:${line}`),
  );
  expect(sources.length).toBeGreaterThan(300);
  expect(found).toEqual([]);
});

test('every area of the dictionary stands in the whole', () => {
  const areas = readdirSync(new URL('look/texts/', VIEWER)).map((name) => name.replace(/\.ts$/, ''));
  expect(Object.keys(ALL_TEXTS).sort()).toEqual(areas.sort());
  expect(textsOf(ALL_TEXTS).length).toBeGreaterThan(1000);
});

function textsOf(part: unknown): string[] {
  if (typeof part === 'string') return [part];
  if (typeof part !== 'object' || part === null) return [];
  return Object.values(part).flatMap(textsOf);
}

test('the search finds words between tags, in read attributes and in sentences, and leaves names and code alone', () => {
  const source = `
    import x from 'some where';
    const T = { a: 'Two words', 'not read': isOn ? 'mm' : 'in' };
    if (mode === 'laid on') f(\`\${n} pairs of numbers\`);
    const View = () => (
      <p className="small soft" title="Close" style={{ font: 'a b, sans-serif' }}>
        Words {isOn ? 'On' : T.off} {n}
        <b aria-label={\`Part \${n}\`}>{name === 'x' ? '–' : ' '}</b>
      </p>
    );`;
  expect(inlineTexts('x.tsx', source).map((line) => line.replace(/^\d+: /, ''))).toEqual([
    'Two words',
    '… pairs of numbers',
    'Close',
    'Words',
    'On',
    'Part …',
  ]);
});
