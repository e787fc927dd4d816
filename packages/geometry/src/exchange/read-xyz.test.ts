import { describe, expect, it } from 'vitest';
import { InputError, type InputErrorCode } from '../numeric/input-error.ts';
import { encodeAscii } from './ascii-bytes.ts';
import { type RawMesh, readMesh, readPly, readXyz } from './index.ts';

const POINTS = [0, 0, 0, 4.5, -1, 0.25, 1000, 2, -3e-3];
const rows = (separator: string) =>
  `0${separator}0${separator}0\n4.5${separator}-1${separator}0.25\n1000${separator}2${separator}-3e-3\n`;
const read = (text: string, name = 'a.xyz'): RawMesh => readMesh(encodeAscii(text), name);

describe('points as text', () => {
  const READ: readonly [name: string, text: string][] = [
    ['blanks', rows(' ')],
    ['several blanks, leading ones', ` ${rows('   ')}`],
    ['tabs', rows('\t')],
    ['commas', rows(',')],
    ['commas and blanks', rows(', ')],
    ['semicolons', rows(';')],
    ['semicolons at the ends too', rows(';').replaceAll('\n', ';\n')],
    ['CR LF', rows(' ').replaceAll('\n', '\r\n')],
    ['CR', rows(' ').replaceAll('\n', '\r')],
    ['no last line end', rows(' ').trimEnd()],
    ['a byte-order mark', `\xef\xbb\xbf${rows(' ')}`],
    ['a header', `x,y,z\n${rows(',')}`],
    ['a header in quotes', `"X";"Y";"Z"\n${rows(';')}`],
    ['a header behind slashes', `//X Y Z\n${rows(' ')}`],
    ['comments and empty lines', `# scan of Tuesday\n\n${rows(' ')}\n# end\n`],
    ['their number first', `3\n${rows(' ')}`],
    ['their number and a header', `3\nx y z\n${rows(' ')}`],
  ];
  for (const [name, text] of READ) {
    it(`${name}: the same three points, by content and by name`, () => {
      for (const raw of [read(text), readXyz(encodeAscii(text), 'a.xyz')]) {
        expect(raw).toMatchObject({ kind: 'points', format: 'xyz', colours: null, warnings: [] });
        expect([...raw.mesh.positions]).toEqual(POINTS);
        expect(raw.mesh.triangles.length).toBe(0);
      }
    });
  }

  it('names of any text file are fine, a name of a mesh brings a warning', () => {
    for (const name of ['a.csv', 'a.TXT', 'a.asc', 'a.pts']) expect(read(rows(' '), name).warnings).toEqual([]);
    expect(read(rows(' '), 'a.stl').warnings[0]).toMatch(/was read as XYZ/);
  });

  it('colours: six columns that fit, or named by the header; other columns are passed over with a warning', () => {
    const six = read('0 0 0 255 0 1\n1.5 1 1 2 3 4\n');
    expect([...(six.colours ?? [])]).toEqual([255, 0, 1, 2, 3, 4]);
    const named = read('red,z,y,x,green,blue,q\n9,3,2,1.5,8,7,far\n0,0,0,0,0,0,-\n');
    expect([...named.mesh.positions]).toEqual([1.5, 2, 3, 0, 0, 0]);
    expect([...(named.colours ?? [])]).toEqual([9, 8, 7, 0, 0, 0]);
    expect(named.warnings).toEqual(['1 columns beside the coordinates were not read.']);
    const normals = read('0 0 0 0 0 1\n1 1 1 0.6 0 0.8\n');
    expect([normals.colours, normals.warnings.length]).toEqual([null, 1]);
  });

  const REFUSED: readonly [name: string, text: string, code: InputErrorCode][] = [
    ['decimal commas between semicolons', '1,5;2,5;3,5\n', 'ambiguous'],
    ['one decimal comma later', '1;2;3\n4;5;6\n1,5;2;3\n', 'ambiguous'],
    ['decimal commas between blanks', '1,5 2,5 3,5\n', 'ambiguous'],
    ['six whole columns by commas', '1,5,2,5,3,5\n4,5,1,5,2,5\n', 'ambiguous'],
    ['a short line', '1 2 3\n4 5\n', 'truncated'],
    ['an empty column', '1;2;3\n4;;5\n', 'truncated'],
    ['a long line', '1 2 3\n4 5 6 7\n', 'malformed'],
    ['a word', '1 2 3\n4 five 6\n', 'syntax'],
    ['NaN', '1 2 3\nnan 5 6\n', 'not-a-number'],
    ['NaN on the first line', 'nan 5 6\n', 'not-a-number'],
    ['1e999', '1 2 3\n4 1e999 6\n', 'not-a-number'],
    ['1e38', '1 2 3\n4 1e38 6\n', 'out-of-range'],
    ['two columns', '1 2\n3 4\n', 'malformed'],
    ['no numbers', 'horse\n', 'malformed'],
    ['zero bytes', '1 2 3\0\n', 'malformed'],
    ['a header of fewer names', 'x y z\n1 2 3 4\n', 'inconsistent'],
    ['a header without z', 'x y q\n1 2 3\n', 'malformed'],
    ['curves by name', 'curve,x,y,z\n1,2,3,4.5\n', 'unsupported'],
    ['fewer points than promised', `9\n${rows(' ')}`, 'truncated'],
    ['more points than promised', `2\n${rows(' ')}`, 'inconsistent'],
    ['4 billion points promised', `4000000000\n${rows(' ')}`, 'too-large'],
    ['50 million points promised', `50000000\n${rows(' ')}`, 'truncated'],
    ['100 columns', `${'1 '.repeat(100)}\n`, 'too-large'],
  ];
  for (const [name, text, code] of REFUSED) {
    it(`${name}: ${code}`, () => {
      const error = refusal(() => read(text, 'some/folder/a.xyz'));
      expect({ code: error.code, file: error.details.file }).toEqual({ code, file: 'a.xyz' });
      for (const part of [error.details.field, error.details.got, error.details.remedy])
        expect(part?.length).toBeGreaterThan(0);
    });
  }

  it('says which point and line', () => {
    expect(refusal(() => read('# a\nx y z\n1 2 3\n4 5 six\n')).details.field).toBe('point 1, line 4');
  });

  it('more points than three for each triangle of the budget', () => {
    const limits = { maxBytes: 1e6, maxTriangles: 2 };
    expect(refusal(() => readXyz(encodeAscii('1 2 3\n'.repeat(7)), 'a.xyz', limits)).code).toBe('too-large');
    expect(readXyz(encodeAscii('1 2 3\n'.repeat(6)), 'a.xyz', limits).mesh.positions.length).toBe(18);
  });
});

describe('PLY without faces is a cloud', () => {
  const ply = (face: string) =>
    `ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\n${face}end_header\n0 0 0\n4.5 -1 0.25\n1000 2 -3e-3\n`;
  for (const face of ['', 'element face 0\nproperty list uchar int vertex_indices\n']) {
    it(`${face === '' ? 'no' : 'an empty'} face element`, () => {
      const raw = readPly(encodeAscii(ply(face)), 'a.ply');
      expect([raw.kind, [...raw.mesh.positions], raw.mesh.triangles.length]).toEqual(['points', POINTS, 0]);
    });
  }

  it('4 billion vertices in the header are refused before memory is taken', () => {
    const error = refusal(() => readPly(encodeAscii(ply('').replace('vertex 3', 'vertex 4000000000')), 'a.ply'));
    expect(error.code).toBe('too-large');
  });
});

function refusal(work: () => unknown): InputError {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('was read without a refusal');
}
