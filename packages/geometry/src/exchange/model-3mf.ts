import type { Matrix4 } from '../numeric/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { IndexList } from './index-list.ts';
import { NumberList } from './number-list.ts';
import { MAX_COORDINATE, type ReadLimits } from './raw-mesh.ts';
import { checkTriangleCount, refuse, refuseCoordinate } from './refuse.ts';
import { XmlScanner } from './xml-scanner.ts';

export interface Placement3mf {
  readonly objectId: string;
  readonly matrix: Matrix4;
  readonly place: string;
}

export interface Object3mf {
  readonly type: string;
  /** Null for an object made of components only. */
  readonly mesh: TriangleMesh | null;
  readonly components: readonly Placement3mf[];
}

export interface Model3mf {
  readonly unit: string;
  readonly objects: ReadonlyMap<string, Object3mf>;
  readonly items: readonly Placement3mf[];
  /** Triangles with a corner twice, left out. */
  readonly dropped: number;
}

const REMEDY = 'Export the model again as 3MF.';
/** Extensions that may be required without changing where a surface is. */
const HARMLESS = /^http:\/\/schemas\.microsoft\.com\/3dmanufacturing\/(material|production)\/\d{4}\/\d{2}$/;
const IDENTITY: Matrix4 = Object.freeze([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1]);

interface OpenObject {
  readonly id: string;
  readonly type: string;
  readonly positions: NumberList;
  readonly triangles: IndexList;
  readonly components: Placement3mf[];
  readonly place: string;
}

/** Reads a model part in one pass over its tags. */
export class ModelReader {
  readonly #xml: XmlScanner;
  readonly #limits: ReadLimits;
  readonly #objects = new Map<string, Object3mf>();
  readonly #items: Placement3mf[] = [];
  #unit = '';
  #prefix = '';
  #dropped = 0;
  #object: OpenObject | null = null;

  constructor(part: Uint8Array, partName: string, limits: ReadLimits) {
    this.#xml = new XmlScanner(part, partName);
    this.#limits = limits;
  }

  /** @throws InputError for anything that the 3MF Core Specification does not allow and that would bend the shape. */
  read(): Model3mf {
    this.#readRoot();
    while (this.#xml.next()) {
      const { name } = this.#xml;
      if (!name.startsWith(this.#prefix)) continue;
      const own = name.slice(this.#prefix.length);
      if (this.#xml.opens) this.#take(own);
      if (this.#xml.closes && own === 'object') this.#closeObject();
    }
    return { unit: this.#unit, objects: this.#objects, items: this.#items, dropped: this.#dropped };
  }

  /** The root's own prefix is the core's; most files have none. */
  #readRoot(): void {
    const xml = this.#xml;
    const isModel = xml.next() && /^([^:]+:)?model$/.test(xml.name);
    if (!isModel) refuse('malformed', xml.place(), xml.name, 'a root element "model"', REMEDY);
    this.#prefix = xml.name.slice(0, -'model'.length);
    this.#unit = xml.attribute('unit') ?? 'millimeter';
    for (const prefix of (xml.attribute('requiredextensions') ?? '').split(/\s+/).filter((word) => word !== '')) {
      const address = xml.attribute(`xmlns:${prefix}`) ?? prefix;
      if (HARMLESS.test(address)) continue;
      const remedy = 'Export it as plain triangles, without extensions.';
      refuse('unsupported', xml.place(), address, 'a model that needs no such extension', remedy);
    }
  }

  #take(name: string): void {
    if (name === 'vertex') this.#takeVertex();
    else if (name === 'triangle') this.#takeTriangle();
    else if (name === 'object') this.#openObject();
    else if (name === 'component') this.#opened('component').components.push(this.#placement());
    else if (name === 'item') this.#items.push(this.#placement());
  }

  #takeVertex(): void {
    const { positions, place } = this.#opened('vertex');
    const xml = this.#xml;
    const x = this.#number('x');
    const y = this.#number('y');
    const z = this.#number('z');
    const fits = Math.abs(x) <= MAX_COORDINATE && Math.abs(y) <= MAX_COORDINATE && Math.abs(z) <= MAX_COORDINATE;
    if (!fits) refuseCoordinate(`${place}, ${xml.place()}`, x, y, z);
    positions.push3(x, y, z);
    checkTriangleCount(positions.length / 9, this.#limits, place);
  }

  #takeTriangle(): void {
    const { triangles } = this.#opened('triangle');
    const [a, b, c] = [this.#index('v1'), this.#index('v2'), this.#index('v3')];
    if (a === b || b === c || a === c) this.#dropped++;
    else triangles.push(a, b, c);
  }

  #openObject(): void {
    const xml = this.#xml;
    const id = xml.attribute('id') ?? this.#refuseAbsent('id');
    if (this.#object !== null) refuse('malformed', xml.place(), 'an object within an object', 'objects apart', REMEDY);
    if (this.#objects.has(id)) refuse('duplicate-key', xml.place(), `object ${id}`, 'each object id once', REMEDY);
    const lists = { positions: new NumberList(), triangles: new IndexList(0, this.#limits), components: [] };
    this.#object = { id, type: xml.attribute('type') ?? 'model', ...lists, place: `object ${id.slice(0, 40)}` };
  }

  #closeObject(): void {
    const { id, type, positions, triangles, components, place } = this.#opened('object');
    this.#object = null;
    const mesh = { positions: positions.finish(), triangles: triangles.finish() };
    const vertices = mesh.positions.length / 3;
    const bad = mesh.triangles.findIndex((index) => index >= vertices);
    if (bad >= 0) {
      const where = `${place}, triangle ${Math.floor(bad / 3)}`;
      refuse('out-of-range', where, mesh.triangles[bad], `vertex indices below ${vertices}`, REMEDY);
    }
    this.#objects.set(id, { type, mesh: mesh.triangles.length > 0 ? mesh : null, components });
  }

  #opened(what: string): OpenObject {
    if (this.#object !== null) return this.#object;
    return refuse('malformed', this.#xml.place(), what, `"${what}" within an object`, REMEDY);
  }

  #placement(): Placement3mf {
    const xml = this.#xml;
    const elsewhere = xml.attributes().find(([name]) => name.endsWith(':path'));
    if (elsewhere !== undefined) {
      const remedy = 'Export it as one model, without the production extension.';
      refuse('unsupported', xml.place(), elsewhere[1], 'objects of the same model part', remedy);
    }
    const objectId = xml.attribute('objectid') ?? this.#refuseAbsent('objectid');
    return { objectId, matrix: this.#matrix(), place: xml.place() };
  }

  /** Twelve numbers, row by row of a matrix that rows of points are multiplied by; turned round into ours. */
  #matrix(): Matrix4 {
    const text = this.#xml.attribute('transform');
    if (text === undefined) return IDENTITY;
    const m = text.trim().split(/\s+/).map(decimal);
    if (m.length !== 12 || !m.every(Number.isFinite)) {
      refuse('malformed', this.#xml.place(), text, 'a transform of twelve numbers', REMEDY);
    }
    return [m[0], m[3], m[6], m[9], m[1], m[4], m[7], m[10], m[2], m[5], m[8], m[11], 0, 0, 0, 1];
  }

  #number(name: string): number {
    const text = this.#xml.attribute(name) ?? this.#refuseAbsent(name);
    const value = decimal(text);
    if (Number.isFinite(value)) return value;
    const isWord = /^\s*[+-]?(nan|inf)/i.test(text) || value === Infinity || value === -Infinity;
    return refuse(isWord ? 'not-a-number' : 'syntax', this.#xml.place(), text, `a number for ${name}`, REMEDY);
  }

  #index(name: string): number {
    const text = this.#xml.attribute(name) ?? this.#refuseAbsent(name);
    if (/^\s*\d{1,9}\s*$/.test(text)) return Number(text);
    return refuse('syntax', this.#xml.place(), text, `a vertex index for ${name}`, REMEDY);
  }

  #refuseAbsent(name: string): never {
    return refuse('missing', this.#xml.place(), this.#xml.name, `an attribute "${name}"`, REMEDY);
  }
}

/** A decimal number as XML Schema writes a double; NaN for anything else, hexadecimal and empty text too. */
function decimal(text: string): number {
  return /^\s*[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?\s*$/.test(text) ? Number(text) : Number.NaN;
}
