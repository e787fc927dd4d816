import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { COARSE, openWorkshop, type Workshop } from './run-command.ts';

let shop: Workshop;
let errorsOf: (document: unknown) => unknown;

const edited = async (from: string, to: string, edit: (doc: Record<string, never>) => void): Promise<void> => {
  const doc = JSON.parse(await readFile(join(shop.folder, from), 'utf8'));
  edit(doc);
  await writeFile(join(shop.folder, to), JSON.stringify(doc));
};

beforeAll(async () => {
  shop = await openWorkshop();
  const schema = JSON.parse((await shop.run(['schema', 'compare-result'])).stdout);
  const validate = new Ajv2020({ strict: true, strictRequired: false, strictTuples: false }).compile(schema);
  errorsOf = (document) => (validate(document) ? null : validate.errors);
  await edited('post.pattern.json', 'post-flat.pattern.json', (doc) =>
    Object.assign(doc, { name: 'Post, flatter', values: { ...(doc.values as object), rockRadius: 2500 } }),
  );
  await edited('post.pattern.json', 'post-copy.pattern.json', () => {});
  await edited('post-copy.pattern.json', 'post-twin.pattern.json', () => {});
});
afterAll(() => shop.close());

const folder = (): string => join(shop.folder, 'out');
beforeEach(async () => {
  await rm(folder(), { recursive: true, force: true });
  await mkdir(folder());
});
const compare = async (...args: string[]) => {
  const run = await shop.run(['compare', ...args]);
  return { ...run, document: JSON.parse(run.stdout) };
};
const FLATTER = ['post.pattern.json', 'post-flat.pattern.json', 'tuesday.back.json'];
type Change = { code: string; change: string; beforeMm: number | null; afterMm: number | null };

describe('compare', () => {
  test('scenario 4: area up, mean down and p95 up is said, and nothing is ranked', async () => {
    const { document, exitCode, stderr } = await compare(...FLATTER);
    expect(exitCode).toBe(0);
    expect(errorsOf(document)).toBeNull();
    const [comparison] = document.result.comparisons;
    const delta = Object.fromEntries(
      comparison.figures.map(({ name, delta: d }: { name: string; delta: number }) => [name, d]),
    );
    expect(delta['contact.areaCm2']).toBeGreaterThan(0);
    expect(delta['contact.meanPressureKPa']).toBeLessThan(0);
    expect(delta['contact.p95PressureKPa']).toBeGreaterThan(0);
    expect(comparison.sentences[0]).toMatch(/more area is not a closer fit here/);
    expect(comparison.inputs).toEqual([
      { key: 'pattern', side: 'both', unit: '', before: 'Post', after: 'Post, flatter', delta: null },
      { key: 'rockRadius', side: 'both', unit: 'mm', before: 1450, after: 2500, delta: 1050 },
    ]);
    const bridging = comparison.findings.find(({ code }: Change) => code === 'bridging');
    expect(bridging).toMatchObject({ change: 'comes', beforeMm: null });
    expect(stderr).not.toMatch(/\b(better|best|worse|safe|pass|fail)\b/i);
    expect(stderr).toMatch(/Nothing here puts one above the other/);
  });

  test('gives the very figures and findings of fit, from documents and from results alike', async () => {
    for (const [name, out] of [
      ['post', 'a'],
      ['post-flat', 'b'],
    ]) {
      await shop.run(['fit', `${name}.pattern.json`, 'tuesday.back.json', ...COARSE, '--out', `out/${out}.json`]);
    }
    const fits = await Promise.all(
      ['a', 'b'].map(async (n) => JSON.parse(await readFile(join(folder(), `${n}.json`), 'utf8'))),
    );
    const fromDocuments = (await compare(...FLATTER, ...COARSE)).document.result;
    const fromResults = (await compare('out/a.json', 'out/b.json')).document;
    expect(errorsOf(fromResults)).toBeNull();
    for (const [i, fit] of fits.entries()) {
      for (const result of [fromDocuments, fromResults.result]) {
        expect(result.fits[i].figures['contact.p95PressureKPa']).toBe(fit.result.contact.p95PressureKPa);
        expect(result.fits[i].figures['pose.pitchDeg']).toBe(fit.result.pose.pitchDeg);
        expect(result.fits[i].findings).toEqual([...new Set(fit.result.findings.map((f: { code: string }) => f.code))]);
      }
    }
    expect(fromResults.result.comparisons[0].findings).toEqual(fromDocuments.comparisons[0].findings);
    expect(fromResults.result.comparisons[0].figures).toEqual(fromDocuments.comparisons[0].figures);
    const [files] = fromResults.result.comparisons[0].inputs;
    expect(files).toMatchObject({ key: 'pattern file' });
    expect(files.before).toMatch(/^post\.pattern\.json \(/);
  });

  test('results of the same files under another load: the load is told, and that --set is not kept', async () => {
    const keep = (out: string, kg: string) =>
      shop.run([
        'fit',
        'post.pattern.json',
        'tuesday.back.json',
        ...COARSE,
        '--set',
        `setup.load.riderKg=${kg}`,
        '--out',
        out,
      ]);
    await keep('out/a.json', '60');
    await keep('out/b.json', '120');
    const { document } = await compare('out/a.json', 'out/b.json');
    expect(document.result.comparisons[0].inputs.map(({ key }: { key: string }) => key)).toEqual(['load.appliedN']);
    expect(document.warnings.map(({ field }: { field: string }) => field)).toEqual(['inputs']);
  });

  test('one pattern on several backs; every map to the same scale and colours', async () => {
    const args = ['post.pattern.json', 'tuesday.back.json', 'heron.back.json', 'dumpling.back.json', ...COARSE];
    const { document, stderr } = await compare(...args, '--map', 'out/m.svg', '--map-ends', '12,20');
    expect(
      document.result.fits.map(({ label, title }: { label: string; title: string }) => `${label} ${title}`),
    ).toEqual(['A Post on Tuesday', 'B Post on Heron', 'C Post on Dumpling']);
    expect(
      document.result.comparisons.map(({ before, after }: { before: string; after: string }) => before + after),
    ).toEqual(['AB', 'AC']);
    expect((await readdir(folder())).sort()).toEqual(['m-1.svg', 'm-2.svg', 'm-3.svg']);
    const scales = await Promise.all(
      [1, 2, 3].map(async (i) => {
        const svg = await readFile(join(folder(), `m-${i}.svg`), 'utf8');
        const [, width, units] = /width="([\d.]+)mm" .*?viewBox="0 0 ([\d.]+)/.exec(svg)!;
        return [(Number(units) / Number(width)).toFixed(2), svg.includes('>20 mm<'), svg.includes('\u221212 mm<')];
      }),
    );
    expect(scales).toEqual(Array(3).fill(['4.00', true, true]));
    expect(stderr).toMatch(/back +Tuesday +Heron/);
  });

  test('a pattern under another name with the same values: nothing differs', async () => {
    await edited('post.pattern.json', 'out/renamed.pattern.json', (doc) => Object.assign(doc, { name: 'Post again' }));
    const { document } = await compare('post.pattern.json', 'out/renamed.pattern.json', 'tuesday.back.json', ...COARSE);
    const [{ inputs, figures, findings, sentences }] = document.result.comparisons;
    expect(inputs.map(({ key }: { key: string }) => key)).toEqual(['pattern']);
    for (const { delta } of figures) expect(delta).toBe(0);
    expect(new Set(findings.map(({ change }: Change) => change))).toEqual(new Set(['stays']));
    expect(sentences).toEqual([]);
  });

  test('a result that was tampered with is refused by field', async () => {
    await shop.run(['fit', 'post.pattern.json', 'tuesday.back.json', ...COARSE, '--out', 'out/a.json']);
    await shop.run(['fit', 'wren.pattern.json', 'tuesday.back.json', ...COARSE, '--out', 'out/b.json']);
    const good = JSON.parse(await readFile(join(folder(), 'b.json'), 'utf8'));
    const edits: [string, (doc: typeof good) => void][] = [
      ['result.contact.p95PressureKPa', (doc) => Object.assign(doc.result.contact, { p95PressureKPa: 'much' })],
      ['result.pose.heightMm', (doc) => delete doc.result.pose],
      ['result.findings', (doc) => Object.assign(doc.result.findings[0], { code: '\u001b[31mred' })],
      ['result', (doc) => Object.assign(doc, { result: [] })],
      ['result.status', (doc) => Object.assign(doc.result, { status: 'passed' })],
      ['inputs', (doc) => Object.assign(doc, { inputs: [] })],
    ];
    for (const [field, edit] of edits) {
      const doc = structuredClone(good);
      edit(doc);
      await writeFile(join(folder(), 'c.json'), JSON.stringify(doc));
      const { document, exitCode } = await compare('out/a.json', 'out/c.json');
      expect({ exitCode, ...document.error }).toMatchObject({ exitCode: 2, code: 'malformed', field, file: 'c.json' });
    }
  });

  test.each([
    ['usage', /2 patterns, 0 backs/, ['post.pattern.json', 'wren.pattern.json']],
    [
      'usage',
      /2 patterns, 2 backs/,
      ['post.pattern.json', 'wren.pattern.json', 'tuesday.back.json', 'heron.back.json'],
    ],
    ['usage', /missing required argument/, []],
    ['usage', /1 patterns, 1 backs/, ['post.pattern.json', 'tuesday.back.json']],
    ['inconsistent', /the same file twice/, ['post.pattern.json', 'post.pattern.json', 'tuesday.back.json']],
    [
      'inconsistent',
      /the same content as post-copy/,
      ['post-copy.pattern.json', 'post-twin.pattern.json', 'tuesday.back.json'],
    ],
    ['missing', /a file of this name/, ['post.pattern.json', 'nowhere.pattern.json', 'tuesday.back.json']],
    ['unsupported', /lesson/, ['post.pattern.json', 'wren.pattern.json', 'two-lengths.lesson.json']],
    ['unsupported', /does not say what it is/, ['post.pattern.json', 'wren.pattern.json', 'tuesday-scan.ply']],
    ['unsupported', /\.svg or \.png/, [...FLATTER, '--map', 'out/m.pdf']],
    ['path', /a file of its own/, [...FLATTER, '--out', 'tuesday.back.json']],
    ['unknown-name', /rokRadius/, [...FLATTER, '--set', 'rokRadius=3']],
  ] as const)('refuses, %s, writing nothing: %s', async (code, words, args) => {
    const { document, exitCode, stdout } = await compare(...args);
    expect(exitCode).toBe(2);
    expect(document.error.code).toBe(code);
    expect(stdout).toMatch(words);
    expect(await readdir(folder())).toEqual([]);
  });
});
