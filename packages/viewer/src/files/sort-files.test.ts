import { describe, expect, test } from 'vitest';
import { fileNameFor } from './save-file.ts';
import { type ReadFile, sortFiles } from './sort-files.ts';

const json = (fileName: string, value: unknown): ReadFile => ({ kind: 'json', fileName, json: value });
const mesh = (fileName: string): ReadFile => ({ kind: 'mesh', fileName, bytes: new Uint8Array(3) });

describe('opened files', () => {
  test('documents are told by what they say they are, not by their names', () => {
    const sorted = sortFiles([
      json('a.json', { schema: 'barwright/pattern/1' }),
      json('b.json', { schema: 'barwright/setup/1' }),
      json('c.pattern.json', { schema: 'barwright/lesson/1' }),
      json('d.json', { schema: 'barwright/back/1', kind: 'sections' }),
      json('e.json', { schema: 'barwright/rider/1' }),
      json('f.json', { schema: 'barwright/shelf/1' }),
      json('g.json', { schema: 'barwright/riding/1' }),
    ]);
    expect(sorted.patterns.map(({ fileName }) => fileName)).toEqual(['a.json']);
    expect(sorted.setups.map(({ fileName }) => fileName)).toEqual(['b.json']);
    expect(sorted.lessons.map(({ fileName }) => fileName)).toEqual(['c.pattern.json']);
    expect(sorted.backs.map(({ fileName, mesh }) => [fileName, mesh])).toEqual([['d.json', null]]);
    expect(sorted.riders.map(({ fileName }) => fileName)).toEqual(['e.json']);
    expect(sorted.shelves.map(({ fileName }) => fileName)).toEqual(['f.json']);
    expect(sorted.ridings.map(({ fileName }) => fileName)).toEqual(['g.json']);
    expect(sorted.refused).toEqual([]);
  });

  test('a scan goes to the document that names it; one left over is asked about', () => {
    const sorted = sortFiles([
      mesh('other.ply'),
      mesh('grey.ply'),
      json('grey.back.json', { schema: 'barwright/back/1', kind: 'scan', mesh: 'grey.ply' }),
    ]);
    expect(sorted.backs[0]!.mesh!.fileName).toBe('grey.ply');
    expect(sorted.looseMeshes.map(({ fileName }) => fileName)).toEqual(['other.ply']);
  });

  test('a scan document without its mesh names the file that is missing', () => {
    const sorted = sortFiles([json('grey.back.json', { schema: 'barwright/back/1', kind: 'scan', mesh: 'grey.ply' })]);
    expect(sorted.backs).toEqual([]);
    expect(sorted.refused[0]).toMatchObject({ code: 'missing', file: 'grey.back.json', got: 'grey.ply' });
    expect(sorted.refused[0]!.remedy).toContain('grey.ply');
  });

  test.each([[null], [[]], [{}], [{ schema: 7 }], [{ schema: 'barwright/pattern/9' }]])(
    '%j is refused by name',
    (value) => {
      const sorted = sortFiles([json('odd.json', value)]);
      expect(sorted.refused[0]).toMatchObject({ code: 'unknown-schema', file: 'odd.json', field: 'schema' });
      expect(sorted.patterns).toEqual([]);
    },
  );
});

test.each([
  ['Post 18, wide', 'post-18-wide.pattern.json'],
  ['../../etc/passwd', 'etc-passwd.pattern.json'],
  ['***', 'pattern.pattern.json'],
  ['Größe', 'gro-e.pattern.json'],
])('%s is saved as %s', (name, file) => {
  expect(fileNameFor(name, 'pattern')).toBe(file);
});
