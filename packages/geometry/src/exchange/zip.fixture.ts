import { deflateSync } from 'fflate';
import { encodeAscii } from './ascii-bytes.ts';
import { crc32 } from './inflate-entry.ts';

/** One entry, and what to say of it that isn't so. */
export interface FixtureEntry {
  readonly name: string;
  readonly content: string | Uint8Array;
  readonly stored?: boolean;
  readonly localName?: string;
  readonly bytes?: number;
  readonly crc?: number;
  readonly flags?: number;
  readonly method?: number;
  /** Local header of the entry of this number instead of an own one. */
  readonly shares?: number;
}

/** A zip archive, true but for what its entries are told to say. */
export function writeZip(entries: readonly FixtureEntry[]): Uint8Array {
  const out: number[] = [];
  const directory: number[] = [];
  const starts: number[] = [];
  for (const entry of entries) {
    const content = typeof entry.content === 'string' ? encodeAscii(entry.content) : entry.content;
    const packed = entry.stored === true ? content : deflateSync(content);
    const start = entry.shares === undefined ? out.length : starts[entry.shares];
    starts.push(start);
    const method = entry.method ?? (entry.stored === true ? 0 : 8);
    const numbers = [
      ...le(entry.crc ?? crc32(content), 4),
      ...le(packed.length, 4),
      ...le(entry.bytes ?? content.length, 4),
    ];
    const common = [...le(20, 2), ...le(entry.flags ?? 0, 2), ...le(method, 2), ...le(0, 4), ...numbers];
    if (entry.shares === undefined) {
      const local = encodeAscii(entry.localName ?? entry.name);
      append(out, [0x50, 0x4b, 3, 4, ...common, ...le(local.length, 2), ...le(0, 2), ...local]);
      append(out, packed);
    }
    const name = encodeAscii(entry.name);
    append(directory, [
      0x50,
      0x4b,
      1,
      2,
      ...le(20, 2),
      ...common,
      ...le(name.length, 2),
      ...le(0, 12),
      ...le(start, 4),
    ]);
    append(directory, name);
  }
  const counts = [...le(0, 4), ...le(entries.length, 2), ...le(entries.length, 2)];
  const end = [0x50, 0x4b, 5, 6, ...counts, ...le(directory.length, 4), ...le(out.length, 4), ...le(0, 2)];
  append(out, directory);
  append(out, end);
  return Uint8Array.from(out);
}

function append(list: number[], more: ArrayLike<number>): void {
  for (let i = 0; i < more.length; i++) list.push(more[i]);
}

function le(value: number, bytes: number): number[] {
  return Array.from({ length: bytes }, (_, i) => Math.floor(value / 256 ** i) % 256);
}

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
const RELATION = 'http://schemas.openxmlformats.org/package/2006/relationships';
const MODEL_TYPE = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';

export const RELATIONS = `<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="${RELATION}"><Relationship Target="/3D/3dmodel.model" Id="a" Type="${MODEL_TYPE}"/></Relationships>`;

export const TETRAHEDRON = `<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="4" y="0" z="0"/><vertex x="0" y="3" z="0"/><vertex x="0" y="0" z="2.5"/></vertices><triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/><triangle v1="0" v2="3" v3="2"/></triangles></mesh>`;
export const TETRAHEDRON_VOLUME = 5;

export interface ModelParts {
  readonly root?: string;
  readonly resources?: string;
  readonly build?: string;
}

export function modelXml({ root, resources, build }: ModelParts = {}): string {
  const attributes = root ?? 'unit="millimeter"';
  const objects = resources ?? `<object id="1" type="model">${TETRAHEDRON}</object>`;
  const items = build ?? '<item objectid="1"/>';
  return `<?xml version="1.0" encoding="UTF-8"?>\n<model ${attributes} xmlns="${CORE}"><resources>${objects}</resources><build>${items}</build></model>`;
}

/** The two parts that a reader needs, stored or deflated. */
export function write3mf(model: string | Uint8Array, stored = false): Uint8Array {
  return writeZip([
    { name: '_rels/.rels', content: RELATIONS, stored },
    { name: '3D/3dmodel.model', content: model, stored },
  ]);
}
