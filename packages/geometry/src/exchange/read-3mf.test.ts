import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { InputError, type InputErrorCode } from '../numeric/input-error.ts';
import { encodeAscii } from './ascii-bytes.ts';
import { type RawMesh, read3mf, readMesh } from './index.ts';
import { crc32 } from './inflate-entry.ts';
import {
  type FixtureEntry,
  type ModelParts,
  modelXml,
  RELATIONS,
  TETRAHEDRON,
  TETRAHEDRON_VOLUME,
  write3mf,
  writeZip,
} from './zip.fixture.ts';

const read = (parts: ModelParts = {}): RawMesh => readMesh(write3mf(modelXml(parts)), 'a.3mf');
const MODEL = { name: '3D/3dmodel.model', content: modelXml() };
const POINTS = [0, 0, 0, 4, 0, 0, 0, 3, 0, 0, 0, 2.5];
const TRIANGLES = [0, 2, 1, 0, 1, 3, 1, 2, 3, 0, 3, 2];

/** A sixth of the sum of triple products (divergence theorem): positive when all faces look outward. */
function volume({ mesh: { positions: p, triangles: t } }: RawMesh): number {
  let sum = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [[ax, ay, az], [bx, by, bz], [cx, cy, cz]] = [0, 1, 2].map((k) => p.subarray(3 * t[i + k], 3 * t[i + k] + 3));
    sum += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
  }
  return sum / 6;
}

describe('a 3MF written here comes back', () => {
  it('vertices and triangles as they were, millimetres with +z up, stored or deflated', () => {
    for (const stored of [true, false]) {
      const raw = readMesh(write3mf(modelXml(), stored), 'a.3mf');
      expect(raw).toMatchObject({ kind: 'mesh', format: '3mf', statedUnit: 'mm', statedUp: '+z', warnings: [] });
      expect([...raw.mesh.positions]).toEqual(POINTS);
      expect([...raw.mesh.triangles]).toEqual(TRIANGLES);
      expect(volume(raw)).toBe(TETRAHEDRON_VOLUME);
    }
  });

  it("an archive by another's writer is read too, its parts in any order and case", () => {
    const parts = {
      '3d/3DModel.model': strToU8(modelXml()),
      '_rels/.rels': strToU8(RELATIONS),
      'x/y.png': strToU8('png'),
    };
    expect([...readMesh(zipSync(parts, { level: 9 }), 'a.3mf').mesh.triangles]).toEqual(TRIANGLES);
  });

  it('without relationships the usual place is looked at', () => {
    expect([...readMesh(writeZip([MODEL]), 'a.3mf').mesh.positions]).toEqual(POINTS);
  });

  for (const [unit, stated, factor] of [
    ['micron', 'mm', 0.001],
    ['millimeter', 'mm', 1],
    ['centimeter', 'cm', 1],
    ['inch', 'in', 1],
    ['foot', 'in', 12],
    ['meter', 'm', 1],
  ] as const) {
    it(`unit ${unit} is stated as ${stated}, coordinates times ${factor}`, () => {
      const raw = read({ root: `unit="${unit}"` });
      expect(raw.statedUnit).toBe(stated);
      expect([...raw.mesh.positions]).toEqual(POINTS.map((value) => value * factor));
      expect(raw.warnings.length).toBe(factor === 1 ? 0 : 1);
    });
  }

  it('65 no unit means millimetres', () => {
    expect(read({ root: '' }).statedUnit).toBe('mm');
  });

  it('65 a transform carries rows of points: turned, scaled and moved by hand', () => {
    // (x, y, z) -> (-y + 10, 2 x, z)
    const raw = read({ build: '<item objectid="1" transform="0 2 0 -1 0 0 0 0 1 10 0 0"/>' });
    expect([...raw.mesh.positions]).toEqual([10, 0, 0, 10, 8, 0, 7, 0, 0, 10, 0, 2.5]);
    expect(volume(raw)).toBeCloseTo(2 * TETRAHEDRON_VOLUME, 12);
  });

  it('65 a mirroring transform leaves the faces looking outward', () => {
    const raw = read({ build: '<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>' });
    expect(volume(raw)).toBeCloseTo(TETRAHEDRON_VOLUME, 12);
    expect([...raw.mesh.triangles.subarray(0, 3)]).toEqual([0, 1, 2]);
  });

  it('65 two build items and nested components are joined, each by its transforms from the inside out', () => {
    const moved = '<component objectid="1" transform="1 0 0 0 1 0 0 0 1 5 0 0"/>';
    const resources = `<object id="1">${TETRAHEDRON}</object><object id="2"><components>${moved}<component objectid="1"/></components></object>`;
    const raw = read({
      resources,
      build: '<item objectid="1"/><item objectid="2" transform="2 0 0 0 2 0 0 0 2 0 0 1"/>',
    });
    expect(raw.mesh.positions.length).toBe(36);
    expect([...raw.mesh.positions.subarray(12, 15)]).toEqual([10, 0, 1]);
    expect(volume(raw)).toBeCloseTo((1 + 8 + 8) * TETRAHEDRON_VOLUME, 10);
  });

  it('a prefix for the core, other prefixes passed over, comments, entities and supports', () => {
    const prefixed = modelXml()
      .replace(/<(\/?)(?!\?)/g, '<$1c:')
      .replace('xmlns=', 'xmlns:c=');
    expect([...readMesh(write3mf(prefixed), 'a.3mf').mesh.triangles]).toEqual(TRIANGLES);
    const resources = `<!-- <object> --><m:colorgroup id="9"/><object id="a&amp;&#66;" name="&lt;x&gt;">${TETRAHEDRON}</object><object id="2" type="support">${TETRAHEDRON}</object>`;
    const raw = read({ resources, build: '<item objectid="a&amp;B"/><item objectid="2"/>' });
    expect([...raw.mesh.triangles]).toEqual(TRIANGLES);
    expect(raw.warnings).toEqual(['1 support objects were left out.']);
  });

  it('triangles with a corner twice are left out with a warning', () => {
    const extra = TETRAHEDRON.replace('</triangles>', '<triangle v1="1" v2="1" v3="2"/></triangles>');
    const raw = read({ resources: `<object id="1">${extra}</object>` });
    expect([raw.mesh.triangles.length, raw.warnings.length]).toEqual([12, 1]);
  });

  it('CRC-32 of "123456789" is the published check value CBF43926', () => {
    expect(crc32(encodeAscii('123456789')).toString(16)).toBe('cbf43926');
  });
});

function archive(changes: Partial<FixtureEntry>, more: readonly FixtureEntry[] = []): Uint8Array {
  return writeZip([{ name: '_rels/.rels', content: RELATIONS }, { ...MODEL, ...changes }, ...more]);
}

function patchedEnd(change: (view: DataView, end: number) => void): Uint8Array {
  const bytes = archive({});
  change(new DataView(bytes.buffer), bytes.length - 22);
  return bytes;
}

const NEVER_READ = { name: 'x', content: 'x', stored: true };
const MEGABYTE = new Uint8Array(8_000_000);
const relation = (target: string, more = '') => [
  { name: '_rels/.rels', content: RELATIONS.replace('"/3D/3dmodel.model"', `"${target}" ${more}`) },
  MODEL,
];
const object = (inner: string, attributes = 'id="1"') =>
  modelXml({ resources: `<object ${attributes}>${inner}</object>` });
const bent = (from: string, to: string) => object(TETRAHEDRON.replace(from, to));
const withRoot = (root: string) => modelXml({ root });
const built = (build: string) => modelXml({ build });
const loop = modelXml({
  resources:
    '<object id="1"><components><component objectid="2"/></components></object><object id="2"><components><component objectid="1"/></components></object>',
});
/** Every level places the one below twice: 2^30 visits of nothing. */
const doubling = modelXml({
  resources: Array.from({ length: 31 }, (_, i) => {
    const below = `<component objectid="${i + 2}"/>`;
    return `<object id="${i + 1}">${i === 30 ? '' : `<components>${below}${below}</components>`}</object>`;
  }).join(''),
});
const ENTITIES = '<!DOCTYPE a [<!ENTITY a "xxxxxxxxxx"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>';

/** Rows 61 to 65 of the list of hostile inputs that these were drawn from; common practice, no source. A text is a model part. */
const REFUSED: readonly [name: string, content: Uint8Array | string, code: InputErrorCode][] = [
  ['61 8 MB of zeros beside the model', archive({}, [{ name: 'bomb', content: MEGABYTE }]), 'too-large'],
  ['61 the model itself a bomb', archive({ content: MEGABYTE }), 'too-large'],
  ['61 a bomb that states 100 bytes', archive({ content: MEGABYTE, bytes: 100 }), 'inconsistent'],
  ['61 4 GB stated', archive({ bytes: 4_000_000_000 }), 'too-large'],
  ['61 a zip in the zip', archive({ content: archive({}) }), 'malformed'],
  [
    '61 overlapping entries',
    archive({}, [{ ...MODEL, name: '3D/b.model', shares: 1, localName: MODEL.name }]),
    'inconsistent',
  ],
  ['61 an entry within another', writeZip([{ ...MODEL }, { ...MODEL, shares: 0 }]), 'duplicate-key'],
  ['61 5000 entries', writeZip(Array.from({ length: 5000 }, (_, i) => ({ ...NEVER_READ, name: `${i}` }))), 'too-large'],
  ['62 ../evil', archive({}, [{ ...NEVER_READ, name: '../evil' }]), 'path'],
  ['62 a/../../evil', archive({}, [{ ...NEVER_READ, name: 'a/../../evil' }]), 'path'],
  ['62 ..\\evil', archive({}, [{ ...NEVER_READ, name: '..\\evil' }]), 'path'],
  ['62 /absolute', archive({}, [{ ...NEVER_READ, name: '/absolute' }]), 'path'],
  ['62 C:\\absolute', archive({}, [{ ...NEVER_READ, name: 'C:\\absolute' }]), 'path'],
  ['62 no name', archive({}, [{ ...NEVER_READ, name: '' }]), 'path'],
  ['62 duplicate names', archive({}, [MODEL]), 'duplicate-key'],
  ['62 names that differ in case', archive({}, [{ ...MODEL, name: '3d/3DMODEL.model' }]), 'duplicate-key'],
  ['63 stated size too small', archive({ bytes: 50 }), 'inconsistent'],
  ['63 stated size too large', archive({ bytes: 5000 }), 'inconsistent'],
  ['63 stated size too small, stored', archive({ bytes: 50, stored: true }), 'inconsistent'],
  ['63 checksum wrong', archive({ crc: 1 }), 'inconsistent'],
  ['63 checksum wrong, stored', archive({ crc: 1, stored: true }), 'inconsistent'],
  ['63 encrypted', archive({ flags: 1 }), 'unsupported'],
  ['63 strongly encrypted', archive({ flags: 0x40 }), 'unsupported'],
  ['63 zip64 entry', archive({ bytes: 2 ** 32 - 1 }), 'unsupported'],
  ['63 zip64 archive', patchedEnd((v, end) => v.setUint16(end + 10, 0xffff, true)), 'unsupported'],
  ['63 an unknown method', archive({ method: 12 }), 'unsupported'],
  ['63 not deflated at all', archive({ stored: true, method: 8 }), 'malformed'],
  ['63 two names for one entry', archive({ localName: 'other' }), 'inconsistent'],
  ['63 several disks', patchedEnd((v, end) => v.setUint16(end + 4, 1, true)), 'unsupported'],
  [
    '63 more entries stated than there are',
    patchedEnd((v, end) => {
      v.setUint16(end + 8, 9, true);
      v.setUint16(end + 10, 9, true);
    }),
    'malformed',
  ],
  ['63 directory beyond the file', patchedEnd((v, end) => v.setUint32(end + 16, 2 ** 31, true)), 'truncated'],
  ['63 cut short', archive({}).slice(0, -30), 'truncated'],
  ['63 mark only', encodeAscii('PK\x03\x04\x14\0'), 'truncated'],
  ['64 document type', `<!DOCTYPE model>${modelXml()}`, 'forbidden'],
  ['64 entity bomb', `${ENTITIES}${modelXml()}`, 'forbidden'],
  ['64 external entity', `<!DOCTYPE a SYSTEM "file:///etc/hosts">${modelXml()}`, 'forbidden'],
  ['64 an entity of its own', bent('x="4"', 'x="&four;"'), 'forbidden'],
  ['64 an entity without its end', bent('x="4"', 'x="&amp"'), 'forbidden'],
  ['64 10,000 attributes', withRoot(Array.from({ length: 10_000 }, (_, i) => `a${i}="1"`).join(' ')), 'too-large'],
  ['64 an attribute of 100 kB', withRoot(`a="${'x'.repeat(1e5)}"`), 'too-long'],
  ['64 an attribute twice', bent('x="4"', 'x="4" x="5"'), 'duplicate-key'],
  ['64 10,000 levels', object('<a>'.repeat(10_000)), 'too-large'],
  ['64 UTF-16', Uint8Array.of(0xff, 0xfe, 60, 0, 109, 0), 'unsupported'],
  ['64 another encoding', modelXml().replace('UTF-8', 'ISO-8859-1'), 'unsupported'],
  ['64 bytes that are no UTF-8', bent('x="4"', 'x="\xff"'), 'malformed'],
  ['64 an end tag of another', modelXml().replace('</build>', '</bild>'), 'malformed'],
  ['64 cut short', modelXml().slice(0, -20), 'truncated'],
  ['64 a tag cut short', modelXml().slice(0, -3), 'truncated'],
  ['64 two roots', `${modelXml()}<model/>`, 'malformed'],
  ['64 empty part', '', 'empty'],
  ['64 another root', '<html></html>', 'malformed'],
  ['65 unit unknown', withRoot('unit="furlong"'), 'wrong-unit'],
  ['65 unit a name of every object', withRoot('unit="constructor"'), 'wrong-unit'],
  ['65 flattened', built('<item objectid="1" transform="1 0 0 0 1 0 0 0 0 0 0 0"/>'), 'degenerate'],
  ['65 transform of 11', built('<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0"/>'), 'malformed'],
  ['65 transform with NaN', built('<item objectid="1" transform="1 0 0 0 1 0 0 0 NaN 0 0 0"/>'), 'malformed'],
  ['65 components in a loop', loop, 'cycle'],
  ['65 an object within itself', object('<components><component objectid="1"/></components>'), 'cycle'],
  ['65 2^30 visits of nothing', doubling, 'too-large'],
  ['65 an object that is not there', built('<item objectid="7"/>'), 'missing'],
  ['65 no build items', built(''), 'empty'],
  ['65 an object twice', modelXml({ resources: '<object id="1"/><object id="1"/>' }), 'duplicate-key'],
  [
    '65 beams required',
    withRoot('requiredextensions="b" xmlns:b="http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02"'),
    'unsupported',
  ],
  ['65 an object of another part', built('<item objectid="1" p:path="/3D/other.model"/>'), 'unsupported'],
  ['65 index out of range', bent('v1="0"', 'v1="4"'), 'out-of-range'],
  ['65 index negative', bent('v1="0"', 'v1="-1"'), 'syntax'],
  ['65 no v3', bent(' v3="1"', ''), 'missing'],
  ['65 no z', bent(' z="2.5"', ''), 'missing'],
  ['65 decimal comma', bent('z="2.5"', 'z="2,5"'), 'syntax'],
  ['65 hexadecimal', bent('z="2.5"', 'z="0x2"'), 'syntax'],
  ['65 NaN', bent('z="2.5"', 'z="NaN"'), 'not-a-number'],
  ['65 1e999', bent('z="2.5"', 'z="1e999"'), 'not-a-number'],
  ['65 1e38', bent('z="2.5"', 'z="1e38"'), 'out-of-range'],
  ['65 a vertex outside an object', modelXml({ resources: '<vertex x="1" y="1" z="1"/>' }), 'malformed'],
  ['65 no model part', writeZip([NEVER_READ]), 'missing'],
  ['65 a model part elsewhere', writeZip(relation('/3D/other.model')), 'missing'],
  ['65 a model part outside', writeZip(relation('http://example.com/3dmodel.model', 'TargetMode="External"')), 'path'],
  ['65 a model part up a folder', writeZip(relation('/../3D/3dmodel.model')), 'path'],
];

describe('hostile 3MF files are refused by file, place, finding and remedy', () => {
  for (const [name, content, code] of REFUSED) {
    it(`${name}: ${code}`, () => {
      const isArchive = content instanceof Uint8Array && content[0] === 0x50;
      const bytes = isArchive ? content : write3mf(content);
      const error = refusal(() => readMesh(bytes, 'some/folder/a.3mf'));
      expect({ code: error.code, file: error.details.file }).toEqual({ code, file: 'a.3mf' });
      const { field = '', got = '', expected, remedy } = error.details;
      for (const part of [field, got, expected, remedy]) expect(part.length).toBeGreaterThan(0);
    });
  }

  it('more triangles than the budget', () => {
    const limits = { maxBytes: 1e6, maxTriangles: 3 };
    expect(refusal(() => read3mf(write3mf(modelXml()), 'a.3mf', limits)).code).toBe('too-large');
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
