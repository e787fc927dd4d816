import { multiplyMatrices } from '../numeric/index.ts';
import { type Instance, mergeInstances } from './merge-instances.ts';
import { type Model3mf, ModelReader, type Placement3mf } from './model-3mf.ts';
import { precisionWarnings } from './precision-warnings.ts';
import { type RawMesh, READ_LIMITS, type ReadLimits } from './raw-mesh.ts';
import { checkSize, namingFile, refuse } from './refuse.ts';
import { XmlScanner } from './xml-scanner.ts';
import { listZip, unzipEntry, type ZipEntry } from './zip-archive.ts';

const REMEDY = 'Export the model again as 3MF.';
const MODEL_TYPE = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';
const USUAL_MODEL = '3d/3dmodel.model';
const RELATIONS = '_rels/.rels';
const DEEPEST = 32;
const MOST_PLACED = 100_000;

/** What a unit's name means: ours, and a factor where ours has no such unit. */
const UNITS: Readonly<Record<string, { unit: 'mm' | 'cm' | 'm' | 'in'; factor: number }>> = Object.freeze({
  micron: { unit: 'mm', factor: 0.001 },
  millimeter: { unit: 'mm', factor: 1 },
  centimeter: { unit: 'cm', factor: 1 },
  inch: { unit: 'in', factor: 1 },
  foot: { unit: 'in', factor: 12 },
  meter: { unit: 'm', factor: 1 },
});

/**
 * Reads a 3MF file (3MF Core Specification, ISO/IEC 25422:2025; container ISO/IEC 29500-2; both from memory): the model part that
 * the package names, its objects as the build places them, components and transforms carried out, joined into one mesh.
 * Support objects are left out with a warning. Other model parts, beams, slices and the like are refused where they matter.
 * @returns the model's own unit (micron turned into mm, foot into inches, with a warning) and +z up, as the format has it.
 * @throws InputError for anything damaged, looped, flattened, over the limits, or that lies about its size.
 */
export function read3mf(bytes: Uint8Array, fileName: string, limits: ReadLimits = READ_LIMITS): RawMesh {
  return namingFile(fileName, () => {
    checkSize(bytes, limits);
    const part = findModel(bytes, listZip(bytes));
    const model = new ModelReader(unzipEntry(bytes, part), part.name, limits).read();
    const stated = statedUnit(model.unit, part.name);
    const warnings: string[] = [];
    const placed = placeObjects(model, stated.factor, warnings);
    if (placed.length === 0) refuse('empty', 'build', 'no triangles', 'a build that places a mesh', REMEDY);
    const mesh = mergeInstances(placed, limits);
    if (stated.factor !== 1) warnings.push(`Coordinates stated in ${model.unit} were turned into ${stated.unit}.`);
    if (model.dropped > 0) warnings.push(`${model.dropped} triangles with a corner twice were left out.`);
    warnings.push(...precisionWarnings(mesh.positions));
    return { kind: 'mesh', mesh, colours: null, format: '3mf', warnings, statedUnit: stated.unit, statedUp: '+z' };
  });
}

function statedUnit(unit: string, part: string): (typeof UNITS)[string] {
  if (Object.hasOwn(UNITS, unit)) return UNITS[unit];
  return refuse('wrong-unit', `${part}, unit`, unit, Object.keys(UNITS).join(', '), REMEDY);
}

/** The part that the package's relationships call its model; without them the one at the usual place. */
function findModel(bytes: Uint8Array, entries: readonly ZipEntry[]): ZipEntry {
  const find = (name: string) => entries.find((entry) => entry.name.toLowerCase() === name.toLowerCase());
  const relations = find(RELATIONS);
  const name = (relations === undefined ? null : modelTarget(unzipEntry(bytes, relations))) ?? USUAL_MODEL;
  const model = find(name);
  if (model !== undefined) return model;
  return refuse('missing', 'archive', `${entries.length} entries`, `a 3MF model part ${name}`, REMEDY);
}

function modelTarget(part: Uint8Array): string | null {
  const xml = new XmlScanner(part, RELATIONS);
  let target: string | null = null;
  while (xml.next()) {
    if (!/^([^:]+:)?Relationship$/.test(xml.name) || xml.attribute('Type') !== MODEL_TYPE) continue;
    const found = xml.attribute('Target') ?? '';
    const leaves = /^[a-z][a-z0-9+.-]*:|^\/\/|\\|(^|\/)\.\.(\/|$)/i.test(found);
    if (leaves || xml.attribute('TargetMode') === 'External') {
      refuse('path', xml.place(), found, 'a model part within the archive', REMEDY);
    }
    if (target !== null) refuse('ambiguous', xml.place(), found, 'one model part', REMEDY);
    target = found.replace(/^\//, '');
  }
  return target;
}

/** Carries out the build: each item, and within it each component, as far down as they go. */
function placeObjects(model: Model3mf, factor: number, warnings: string[]): Instance[] {
  const instances: Instance[] = [];
  const supports = new Set<string>();
  const within = new Set<string>();
  const scale = [factor, 0, 0, 0, 0, factor, 0, 0, 0, 0, factor, 0, 0, 0, 0, 1];
  let steps = 0;
  const place = ({ objectId, matrix, place: where }: Placement3mf): void => {
    const object = model.objects.get(objectId);
    if (object === undefined) refuse('missing', where, `object ${objectId}`, 'an object of the model', REMEDY);
    // Counted at every step, not by what is placed: doubling levels of empty objects would take for ever too.
    if (++steps > MOST_PLACED) refuse('too-large', where, 'more', `at most ${MOST_PLACED} placed objects`, REMEDY);
    if (within.has(objectId)) refuse('cycle', where, `object ${objectId} within itself`, 'no loops', REMEDY);
    if (within.size >= DEEPEST) refuse('too-large', where, 'deeper', `at most ${DEEPEST} levels`, REMEDY);
    if (object.type === 'support' || object.type === 'solidsupport') {
      supports.add(objectId);
      return;
    }
    if (object.mesh !== null) instances.push({ mesh: object.mesh, matrix, place: where });
    within.add(objectId);
    for (const part of object.components) place({ ...part, matrix: multiplyMatrices(matrix, part.matrix) });
    within.delete(objectId);
  };
  for (const item of model.items) place({ ...item, matrix: multiplyMatrices(scale, item.matrix) });
  if (supports.size > 0) warnings.push(`${supports.size} support objects were left out.`);
  return instances;
}
