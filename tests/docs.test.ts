import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { main } from '@barwright/cli';
import { CAUTIONS, FINDING_WORDS, PUBLISHED_WALK_KPA, SETUP_DEFAULTS } from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { setupKeys, setupValue } from '../packages/cli/src/inputs/set-setup.ts';
import { SAMPLE_COLUMNS } from '../packages/cli/src/output/samples-csv.ts';
import { SCHEMAS } from '../packages/cli/src/schemas/all-schemas.ts';
// @ts-expect-error a plain script without types
import { docsPages, SCHEMA_NAMES } from '../scripts/write-docs.mjs';
import { exampleBack, examplePattern } from './support/examples.ts';

/** The pages against the code: what is written from it is up to date, and what is named in them exists. */
const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const text = (path: string): string => readFileSync(join(ROOT, path), 'utf8');

/** Commands of the command line, from its source. */
const COMMANDS = [...text('packages/cli/src/program.ts').matchAll(/\.command\('(\w+)'\)/g)].map(([, name]) => name);

function filesUnder(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return ['node_modules', 'dist'].includes(entry.name) ? [] : filesUnder(path);
    return [path];
  });
}

/** Cells of every table row of a text, without the backticks around a cell. */
const tableRows = (page: string): string[][] =>
  page
    .split('\n')
    .filter((line) => /^\| /.test(line) && !/^\|[ :|-]+$/.test(line))
    .map((line) =>
      line
        .slice(1, line.lastIndexOf('|'))
        .split('|')
        .map((cell) => cell.trim().replace(/^`([^`]*)`$/, '$1')),
    );

/** The part of a page under one heading, to the next heading of its level or above. */
function section(page: string, heading: RegExp): string {
  const lines = page.split('\n');
  const from = lines.findIndex((line) => heading.test(line));
  if (from < 0) throw new Error(`no heading ${heading}`);
  const level = /^#+/.exec(lines[from])![0].length;
  const length = lines.slice(from + 1).findIndex((line) => /^#+ /.test(line) && /^#+/.exec(line)![0].length <= level);
  return lines.slice(from + 1, length < 0 ? undefined : from + 1 + length).join('\n');
}

describe('pages written from the code', async () => {
  const pages: Map<string, string> = await docsPages({ cautions: CAUTIONS, main });

  it('cover every schema that `barwright schema` knows, and no other', () => {
    expect(SCHEMA_NAMES).toEqual(Object.keys(SCHEMAS));
    expect(readdirSync(join(ROOT, 'docs/schemas')).sort()).toEqual(
      SCHEMA_NAMES.map((name: string) => `${name}.schema.json`).sort(),
    );
  });

  it.each([...pages.keys()])(
    'docs/%s is what the code gives: else run `node scripts/write-docs.mjs` after a build',
    (path) => {
      expect(text(`docs/${path}`)).toBe(pages.get(path));
    },
  );

  it('every caution stands on its page in full', () => {
    expect(CAUTIONS.length).toBeGreaterThan(5);
    for (const { full } of CAUTIONS) expect(text('docs/cautions.md')).toContain(full);
  });
});

describe('DESIGN.md against the code', () => {
  const page = text('docs/concepts/DESIGN.md');

  it('its table of defaults has every value of a setup, and no other', () => {
    const written = tableRows(section(page, /^### Defaults/)).slice(1);
    const own = setupKeys(SETUP_DEFAULTS).map((key) => [key, String(setupValue(SETUP_DEFAULTS, key))]);
    expect(written.map(([key, value]) => [key, value])).toEqual(own);
  });

  it('names every finding with a rule that exists', () => {
    const rows = tableRows(section(page, /^## 4\./)).filter((row) => row.length === 3 && row[0] !== 'code');
    const codes = rows.flatMap(([first]) => first.replaceAll('`', '').split(', '));
    expect(codes.sort()).toEqual(Object.keys(FINDING_WORDS).sort());
    const rules = rows.flatMap(([, , rule]) => rule.replaceAll('`', '').split(', ')).filter((rule) => rule !== '');
    for (const rule of rules) expect(SETUP_DEFAULTS.rules).toHaveProperty(rule);
  });

  it('lists the columns of the samples and the parts of a fit result as they are', () => {
    expect(page.split('\n')).toContain(SAMPLE_COLUMNS);
    const said = /The result of `fit`: (.*)\./.exec(page)![1].replaceAll('`', '').split(', ');
    const schema = JSON.parse(text('docs/schemas/fit-result.schema.json'));
    expect(said).toEqual(schema.properties.result.required);
    const envelope = /one JSON document `\{(.*?)\}`/.exec(page)![1].split(', ');
    expect([...envelope, 'requirements']).toEqual(schema.required);
  });

  it('lists the commands that there are, and says nothing of them that they are not built', () => {
    const listed = [...section(page, /^## 7\./).matchAll(/^barwright (\w+) /gm)].map(([, name]) => name);
    expect(listed.sort()).toEqual([...COMMANDS].sort());
    const missing = /Not built yet: commands for ([^.]*)\./.exec(page)?.[1].split(/, | and /) ?? [];
    expect(missing.filter((name) => COMMANDS.includes(name))).toEqual([]);
  });

  it('lists the ways in to a back that the schema knows, and no other', () => {
    const { anyOf, oneOf } = JSON.parse(text('docs/schemas/back.schema.json'));
    const kinds = (anyOf ?? oneOf).map(
      (kind: { properties: { kind: { const: string } } }) => kind.properties.kind.const,
    );
    const listed = [...section(page, /^## 3\./).matchAll(/^- \*\*(\w+)\*\*/gm)].map(([, name]) => name.toLowerCase());
    expect(listed.sort()).toEqual(kinds.sort());
  });

  it('has the folders of geometry in their order', () => {
    const line = page.split('\n').find((l) => l.startsWith('packages/geometry  '))!;
    const named = line
      .slice('packages/geometry'.length)
      .trim()
      .split(/ -> | \/ /);
    const folders = readdirSync(join(ROOT, 'packages/geometry/src'), { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map(({ name }) => name);
    expect(folders.filter((name) => !named.includes(name))).toEqual([]);
    const order = /const ORDER[^=]*= (\[[\s\S]*?\n\]);/.exec(text('tests/architecture.test.ts'))![1];
    expect(named).toEqual([...order.matchAll(/'(\w+)'/g)].map(([, name]) => name));
  });
});

describe('TRADE.md against examples/', () => {
  const page = section(text('docs/concepts/TRADE.md'), /^## 5\./);

  it.each(['dumpling', 'heron', 'tuesday'])('%s: stations, heights, slopes, usable length, mass', (name) => {
    const back = exampleBack(name);
    if (back.kind !== 'sections') throw new Error('expected sections');
    const own = page.slice(page.indexOf(`**${back.name}**`)).split('\n');
    const rows = tableRows(own.join('\n'));
    const [x, z, slopes] = ['x', 'z', 'slopes'].map((key) => rows.find(([first]) => first === key)!.slice(1));
    expect(x.map(Number)).toEqual(back.stationsMm);
    expect(z.map(Number)).toEqual(back.bearingHeightMm);
    expect(slopes.map((row) => row.split('/').map(Number))).toEqual(back.slopeDeg);
    expect(own[0]).toContain(`usable length ${back.usableLengthMm} mm`);
    expect(own[0]).toContain(`${back.horseKg} kg`);
    expect(own[0]).toContain(`swings ${back.bladeSwingMm} mm`);
  });

  it('Wren, Post and Rail: every value of the table', () => {
    const all = tableRows(page);
    const rows = all.slice(all.findIndex(([first]) => first === 'value'));
    const patterns = ['wren', 'post', 'rail'].map(examplePattern);
    expect(rows[0].slice(1)).toEqual(patterns.map(({ name }) => name));
    expect(rows.length).toBe(15);
    for (const [key, ...cells] of rows.slice(1)) {
      patterns.forEach(({ values }, i) => {
        const keys = key in values ? [key] : ['Front', 'Waist', 'Rear'].map((place) => key + place);
        expect(cells[i], `${key} of ${patterns[i].name}`).toBe(keys.map((k) => String(values[k])).join(' / '));
      });
    }
  });
});

it('VALIDATION E1 has the published figures that the code compares with', () => {
  const rows = tableRows(section(text('docs/concepts/VALIDATION.md'), /^### E1 /));
  const walk = (start: string): string => rows.find(([first]) => first.startsWith(start))![1];
  const { mean, peak } = PUBLISHED_WALK_KPA;
  expect(walk('horses without sore backs')).toContain(`walk ${mean.without} / ${peak.without},`);
  expect(walk('dry spots')).toContain(`walk ${mean.with} / ${peak.with},`);
});

const CITATION = /\b(DESIGN|TRADE|VALIDATION|PERFORMANCE)(?:\.md)?(?: part \d,)? ([0-9]+[a-z]?|[A-Z][0-9]+)\b/g;
/** Headings "## 4. Seating", "### 1a. Parts", "### A3 A bar", and first cells of tables that number targets and checks. */
function sectionsOf(page: string): Set<string> {
  const headings = [...page.matchAll(/^#+ ([0-9]+[a-z]?|[A-Z][0-9]*)\.? /gm)].map(([, id]) => id);
  return new Set(headings);
}

describe('citations', () => {
  const sources = ['packages', 'tests', 'examples', 'scripts', 'docs']
    .flatMap(filesUnder)
    .filter((file) => /\.(tsx?|mjs|md|css)$/.test(file));
  const names = ['DESIGN', 'TRADE', 'VALIDATION', 'PERFORMANCE'];
  const sections = new Map(names.map((name) => [name, sectionsOf(text(`docs/concepts/${name}.md`))]));

  it('of a page by section meet a heading there', () => {
    const cited = sources.flatMap((file) =>
      [...text(file).matchAll(CITATION)].map(([, page, id]) => ({ file, page, id })),
    );
    expect(cited.length).toBeGreaterThan(50);
    const lost = cited.filter(({ page, id }) => !sections.get(page)!.has(id));
    expect(lost.map(({ file, page, id }) => `${file}: ${page} ${id}`)).toEqual([]);
  });

  it('of scenarios, checks and targets meet a row', () => {
    const rowsOf = (name: string, heading: RegExp): string[] =>
      tableRows(section(text(`docs/concepts/${name}.md`), heading)).map(([first]) => first);
    const known = {
      scenario: rowsOf('TRADE', /^## 8\./),
      check: rowsOf('VALIDATION', /^## F\./),
      target: rowsOf('PERFORMANCE', /^# /),
    };
    const kinds: [keyof typeof known, RegExp][] = [
      ['scenario', /\bscenarios? ([0-9]+)(?: and ([0-9]+))?\b/g],
      ['check', /\band check ([0-9]+)\b/g],
      ['target', /target: '([TW][0-9]+)'/g],
    ];
    const own = sources.filter((file) => file !== 'tests/docs.test.ts');
    for (const [kind, pattern] of kinds) {
      const cited = own.flatMap((file) =>
        [...text(file).matchAll(pattern)].flatMap(([, ...ids]) => ids.filter(Boolean)),
      );
      expect(cited.length, kind).toBeGreaterThan(0);
      expect(
        cited.filter((id) => !known[kind].includes(id)),
        kind,
      ).toEqual([]);
    }
  });

  it('the check sees what it should (its own counter-examples)', () => {
    const ids = (line: string): string[] => [...line.matchAll(CITATION)].map(([, page, id]) => `${page} ${id}`);
    expect(ids('(DESIGN 4)')).toEqual(['DESIGN 4']);
    expect(ids('VALIDATION part 2, E3 and TRADE 1b: x')).toEqual(['VALIDATION E3', 'TRADE 1b']);
    expect(sections.get('DESIGN')!.has('9')).toBe(false);
    expect(sections.get('VALIDATION')!.has('A99')).toBe(false);
    expect(sections.get('VALIDATION')!.has('A3')).toBe(true);
  });
});

/** Folders from which a page may name a file. */
const BASES = ['', 'packages/geometry/src', 'packages/viewer/src', 'packages/cli/src'];
const PAGES = [
  'README.md',
  'DEVELOPERS.md',
  'docs/life-of-a-fit.md',
  ...filesUnder('docs').filter((f) => f.endsWith('.md')),
];

/** Names in a page that lead nowhere: links, files, scripts, commands, and names of things in the code. */
function deadNames(page: string, folder: string): string[] {
  const links = [...page.matchAll(/\]\(([^)#]+)(?:#[^)]*)?\)/g)]
    .map(([, to]) => to)
    .filter((to) => !/^[a-z]+:/.test(to));
  const quoted = [...page.matchAll(/`([^`\n]+)`/g)].map(([, code]) => code);
  const fenced = [...page.matchAll(/```\n([\s\S]*?)```/g)].flatMap(([, block]) => block.split('\n'));
  const said = [...quoted, ...fenced];
  return [
    ...links.filter((to) => !existsSync(join(ROOT, folder, to))),
    ...quoted.filter(
      (code) => /^[\w.*/-]+$/.test(code) && !isExampleName(code) && isFileName(code) && !fileExists(code),
    ),
    ...said.filter((code) => !commandExists(code)),
    ...quoted.filter((code) => /^[A-Za-z]*[a-z][A-Z][A-Za-z]*$/.test(code) && !sourceText().includes(code)),
  ];
}

const isFileName = (code: string): boolean => code.includes('/') || /\.(ts|tsx|mjs|js|json|md|css)$/.test(code);
/** "*.pattern.json" is a kind of file, "5/16" and "barwright/pattern/1" are none, `dist` is made by the build. */
const isExampleName = (code: string): boolean => /^\*?\.|^[0-9/]+$|^barwright\/|\/dist\//.test(code);

function fileExists(code: string): boolean {
  const name = code.replace(/\/$/, '');
  return BASES.some((base) => {
    if (!name.includes('*')) return existsSync(join(ROOT, base, name));
    const folder = join(base, dirname(name));
    const pattern = new RegExp(`^${name.split('/').pop()!.replaceAll('.', '\\.').replaceAll('*', '.*')}$`);
    return existsSync(join(ROOT, folder)) && readdirSync(join(ROOT, folder)).some((entry) => pattern.test(entry));
  });
}

const SCRIPTS: Readonly<Record<string, string>> = JSON.parse(text('package.json')).scripts;

/** false where a line starts a script, a command or a file that does not exist. */
function commandExists(line: string): boolean {
  const script = /^npm (?:run )?([a-z]+)$/.exec(line.trim());
  if (script) return script[1] in SCRIPTS;
  const command = /^(?:npx )?barwright ([a-z]+)\b(.*)$/.exec(line.trim());
  if (command) {
    const files = command[2].split(/\s+/).filter((word) => word.startsWith('examples/'));
    return [...COMMANDS, 'help'].includes(command[1]) && files.every((file) => existsSync(join(ROOT, file)));
  }
  const started = /(?:^|\s)(?:node|npx vite|npx vitest run) ([\w./-]*\/[\w./-]+)/.exec(line);
  // A path from the top of the disk stands for a folder of the reader's own.
  return started === null || started[1].startsWith('/') || existsSync(join(ROOT, started[1]));
}

let sources: string | null = null;
function sourceText(): string {
  sources ??= ['packages', 'examples']
    .flatMap(filesUnder)
    .filter((file) => /\.(tsx?|json)$/.test(file) && statSync(join(ROOT, file)).size < 1e6)
    .map(text)
    .join('\n');
  return sources;
}

describe('names in the pages', () => {
  it.each([...new Set(PAGES)])('%s names only files, scripts, commands and things that exist', (path) => {
    expect(deadNames(text(path), relative('.', dirname(path)))).toEqual([]);
  });

  it('the check sees what it should (its own counter-examples)', () => {
    expect(deadNames('[a](docs/none.md) [b](docs/cautions.md) [c](https://example.org)', '')).toEqual(['docs/none.md']);
    expect(deadNames('`bar/none.ts` `bar/underside.ts` `bar/measure-*.ts` `bar/nothing-*.ts` `5/16`', '')).toEqual([
      'bar/none.ts',
      'bar/nothing-*.ts',
    ]);
    expect(deadNames('`npm run none` `npm test` `npm run bench`', '')).toEqual(['npm run none']);
    expect(deadNames('`npx barwright weigh x` `npx barwright check FILE`', '')).toEqual(['npx barwright weigh x']);
    expect(deadNames('```\nbarwright fit examples/none.pattern.json X\n```', '')).toEqual([
      'barwright fit examples/none.pattern.json X',
    ]);
    expect(deadNames('`node scripts/none.mjs` `node scripts/write-docs.mjs`', '')).toEqual(['node scripts/none.mjs']);
    expect(deadNames('`seatTree` `seatHorseShoe`', '')).toEqual(['seatHorseShoe']);
  });
});
