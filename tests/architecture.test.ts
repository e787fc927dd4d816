import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

/** The shape of the code as DESIGN 6 fixes it: one way through the folders, nothing impure in geometry, one door into it. */
const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const GEOMETRY = join(ROOT, 'packages/geometry/src');

/** Folders in their order; those in one row may not know each other. */
const ORDER: readonly (readonly string[])[] = [
  ['numeric'],
  ['units'],
  ['surface'],
  ['spatial'],
  ['pattern'],
  ['bar', 'back'],
  ['layers'],
  ['flex'],
  ['seating'],
  ['findings'],
  ['motion'],
  ['sizing'],
  ['line'],
  ['drawing'],
  ['photo'],
  ['exchange'],
];
const RANK = new Map(ORDER.flatMap((row, i) => row.map((folder) => [folder, i] as const)));

function sourceFiles(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return entry.name === 'node_modules' || entry.name === 'dist' ? [] : sourceFiles(path);
    return /\.tsx?$/.test(entry.name) && !entry.name.endsWith('.d.ts') ? [path] : [];
  });
}

/** Module names of every import, re-export and import() of a source text; type-only ones too. */
function importsOf(text: string): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const named = (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) && node.moduleSpecifier;
    if (named && ts.isStringLiteral(named)) found.push(named.text);
    const called =
      ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword && node.arguments[0];
    if (called && ts.isStringLiteralLike(called)) found.push(called.text);
    const typed = ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument) && node.argument.literal;
    if (typed && ts.isStringLiteral(typed)) found.push(typed.text);
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile('x.tsx', text, ts.ScriptTarget.ES2022, true, ts.ScriptKind.TSX));
  return found;
}

const isTest = (file: string): boolean => /\.(test|fixture)\.tsx?$/.test(file);
const isFixture = (name: string): boolean => name.endsWith('.fixture.ts');

/** What is wrong with one import of a geometry file, or null. Paths from packages/geometry/src. */
function edgeFault(file: string, name: string): string | null {
  if (!name.startsWith('.')) return null;
  const target = relative(GEOMETRY, join(GEOMETRY, dirname(file), name)).replaceAll('\\', '/');
  // The demo documents are shared data, read by tests and fixtures only.
  if (target.startsWith('../../../examples/') && target.endsWith('.json'))
    return isTest(file) ? null : `${file} reads ${target}`;
  if (target.startsWith('..')) return `${file} leaves the package: ${target}`;
  const [from, to] = [file.split('/')[0], target.split('/')[0]];
  if (!name.endsWith('.ts')) return `${file}: import without .ts: ${name}`;
  if (file === 'index.ts' || from === to) return null;
  if (isTest(file) && isFixture(target)) return null;
  if (isFixture(target)) return `${file} is no test and imports the fixture ${target}`;
  const [own, other] = [RANK.get(from), RANK.get(to)];
  if (own === undefined) return `${file} lies in a folder that DESIGN 6 does not name`;
  if (other === undefined) return `${file} imports ${target}, outside the named folders`;
  return other < own ? null : `${file} imports ${target}: ${other === own ? 'sideways' : 'backward'}`;
}

/** Names that would make a result depend on where, when or by whom it is computed. */
const IMPURE_NAMES = new Set([
  'window',
  'document',
  'navigator',
  'localStorage',
  'console',
  'performance',
  'process',
  'Date',
  'setTimeout',
  'setInterval',
  'requestAnimationFrame',
  'fetch',
  'Worker',
  'crypto',
  'globalThis',
  'self',
]);

/** Impure names used as values in a text, and Math.random. Property names, parameters and own declarations don't count. */
function impurities(text: string): string[] {
  const source = ts.createSourceFile('x.ts', text, ts.ScriptTarget.ES2022, true, ts.ScriptKind.TS);
  const declared = new Set<string>();
  const used: string[] = [];
  const visit = (node: ts.Node): void => {
    const binds =
      ts.isVariableDeclaration(node) ||
      ts.isParameter(node) ||
      ts.isFunctionDeclaration(node) ||
      ts.isBindingElement(node);
    if (binds && node.name && ts.isIdentifier(node.name)) declared.add(node.name.text);
    if (ts.isImportSpecifier(node)) declared.add(node.name.text);
    if (ts.isPropertyAccessExpression(node) && node.expression.getText() === 'Math' && node.name.text === 'random')
      used.push('Math.random');
    if (ts.isIdentifier(node) && IMPURE_NAMES.has(node.text) && isValue(node)) used.push(node.text);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return used.filter((name) => !declared.has(name));
}

function isValue(node: ts.Identifier): boolean {
  const up = node.parent;
  if (ts.isPropertyAccessExpression(up)) return up.expression === node;
  if (ts.isPropertyAssignment(up) || ts.isPropertySignature(up) || ts.isPropertyDeclaration(up))
    return up.name !== node;
  if (ts.isMethodDeclaration(up) || ts.isMethodSignature(up)) return false;
  return !ts.isTypeReferenceNode(up);
}

const ALLOWED_PACKAGES = new Set(['zod', 'mathjs', 'mathjs/number', 'fflate']);
/** Test runner, generators, and the validator that published schemas are checked with. */
const TEST_PACKAGES = new Set(['vitest', 'fast-check', 'ajv/dist/2020.js']);

const geometryFiles = sourceFiles(GEOMETRY).map((path) => {
  const text = readFileSync(path, 'utf8');
  return { file: relative(GEOMETRY, path).replaceAll('\\', '/'), text, imports: importsOf(text) };
});

describe('geometry folders import one way only', () => {
  it('there are files to look at, in folders that DESIGN 6 names', () => {
    expect(geometryFiles.length).toBeGreaterThan(80);
    const folders = new Set(geometryFiles.map(({ file }) => file.split('/')[0]).filter((name) => name !== 'index.ts'));
    for (const folder of folders) expect(RANK.has(folder), folder).toBe(true);
  });

  it('no backward or sideways edge, no import of a fixture outside tests', () => {
    const faults = geometryFiles.flatMap(({ file, imports }) => imports.map((name) => edgeFault(file, name)));
    expect(faults.filter((fault) => fault !== null)).toEqual([]);
  });

  it('the check sees what it should (its own counter-examples)', () => {
    expect(edgeFault('back/x.ts', '../bar/index.ts')).toContain('sideways');
    expect(edgeFault('bar/x.ts', '../back/index.ts')).toContain('sideways');
    expect(edgeFault('spatial/x.ts', '../seating/seat.ts')).toContain('backward');
    expect(edgeFault('seating/x.ts', '../bar/index.ts')).toBe(null);
    expect(edgeFault('seating/x.ts', '../spatial/mesh.fixture.ts')).toContain('fixture');
    expect(edgeFault('seating/x.test.ts', '../exchange/mesh.fixture.ts')).toBe(null);
    expect(edgeFault('bar/x.test.ts', '../seating/index.ts')).toContain('backward');
    expect(edgeFault('bar/x.ts', '../../../viewer/src/main.tsx')).toContain('leaves');
    expect(edgeFault('bar/x.ts', './tree')).toContain('without .ts');
    expect(
      importsOf("export { a } from './a.ts'; type T = import('./b.ts').B; const c = await import('./c.ts');"),
    ).toEqual(['./a.ts', './b.ts', './c.ts']);
  });
});

describe('geometry is pure', () => {
  it('imports no package but its own three, and node: only in tests', () => {
    const faults = geometryFiles.flatMap(({ file, imports }) =>
      imports
        .filter((name) => !name.startsWith('.') && !ALLOWED_PACKAGES.has(name))
        .filter(
          (name) =>
            !(isTest(file) && (TEST_PACKAGES.has(name) || (name.startsWith('node:') && file.endsWith('.test.ts')))),
        )
        .map((name) => `${file} imports ${name}`),
    );
    expect(faults).toEqual([]);
  });

  it('uses no clock, no chance, no console, no page and no process', () => {
    const faults = geometryFiles
      .filter(({ file }) => !file.endsWith('.test.ts'))
      .flatMap(({ file, text }) => impurities(text).map((name) => `${file} uses ${name}`));
    expect(faults).toEqual([]);
  });

  it('the check sees what it should (its own counter-examples)', () => {
    expect(impurities('const a = Math.random();')).toEqual(['Math.random']);
    expect(impurities('export const f = () => Date.now();')).toEqual(['Date']);
    expect(impurities('console.log(1); new Date(); performance.now();')).toEqual(['console', 'Date', 'performance']);
    expect(impurities('const o = { document: 1 }; f(o.document); interface D { self: number }')).toEqual([]);
    expect(impurities('function f(document: string) { return document.length; }')).toEqual([]);
  });
});

describe('one door into geometry', () => {
  for (const name of ['viewer', 'cli'] as const) {
    it(`${name} imports geometry by its public name only`, () => {
      const folder = join(ROOT, 'packages', name, 'src');
      const files = sourceFiles(folder);
      expect(files.length).toBeGreaterThan(0);
      const faults = files.flatMap((path) =>
        importsOf(readFileSync(path, 'utf8'))
          .filter((to) =>
            to.startsWith('.')
              ? join(dirname(path), to).includes('packages/geometry')
              : to.startsWith('@barwright/geometry/'),
          )
          .map((to) => `${relative(ROOT, path)} imports ${to}`),
      );
      expect(faults).toEqual([]);
    });
  }

  it('viewer and cli do not import each other', () => {
    const faults = (['viewer', 'cli'] as const).flatMap((name) =>
      sourceFiles(join(ROOT, 'packages', name, 'src')).flatMap((path) =>
        importsOf(readFileSync(path, 'utf8'))
          .filter((to) => {
            const other = name === 'viewer' ? 'cli' : 'viewer';
            return (
              to.startsWith(`@barwright/${other}`) ||
              (to.startsWith('.') && join(dirname(path), to).includes(`packages/${other}/`))
            );
          })
          .map((to) => `${relative(ROOT, path)} imports ${to}`),
      ),
    );
    expect(faults).toEqual([]);
  });
});
