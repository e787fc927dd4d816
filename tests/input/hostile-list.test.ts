import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/**
 * The list of hostile inputs that our importers must survive, by its numbers, and where each is held: file and title of a
 * test, or of a row of its table. A title that is no longer there fails here, so that no number loses its case unseen.
 */
const MESHES = 'packages/geometry/src/exchange/hostile-meshes.test.ts';
const GLB = 'packages/geometry/src/exchange/read-glb.test.ts';
const THREE_MF = 'packages/geometry/src/exchange/read-3mf.test.ts';
const POINTS = 'packages/geometry/src/exchange/read-xyz.test.ts';
const CURVES = 'packages/geometry/src/exchange/read-tracings.test.ts';
const CLEANING = 'packages/geometry/src/surface/clean-mesh.test.ts';
const SCAN_BACK = 'packages/geometry/src/back/build-scan-back.test.ts';
const PROPOSALS = 'packages/geometry/src/back/propose-scan.test.ts';
const TRACED = 'packages/geometry/src/back/tracings-check.test.ts';
const JSON_TEXT = 'packages/geometry/src/numeric/parse-json.test.ts';
const PATTERN = 'packages/geometry/src/pattern/pattern.test.ts';
const VALUES = 'packages/geometry/src/pattern/expression.test.ts';
const MAP = 'packages/geometry/src/drawing/pressure-map.test.ts';
const SCANS = 'tests/input/spoiled-scans.test.ts';
const DOCUMENTS = 'tests/input/spoiled-documents.test.ts';
const CLAIMS = 'tests/input/claims.test.ts';
const COMMAND = 'tests/input/command-files.test.ts';
const UNREADABLE = 'tests/input/unreadable.test.ts';
const REFUSALS = 'tests/cli/refusals.test.ts';
const FIT = 'tests/cli/fit-command.test.ts';
const ROUND_TRIP = 'tests/surfaces/export-round-trip.test.ts';

type Held = readonly [file: string, ...titles: string[]];

const LIST: Readonly<Record<number, readonly Held[]>> = {
  1: [
    [MESHES, '1 empty', '1 one byte', '1 header only', '1 header cut off', '1 comment only'],
    [GLB, 'header only'],
    [THREE_MF, '63 mark only'],
    [DOCUMENTS, '1 no byte'],
  ],
  2: [[MESHES, '2 count 0']],
  3: [
    [MESHES, '3 count 2^32 - 1'],
    [CLAIMS, '3 STL, 2^32 - 1 facets', '3 STL, as many facets as are allowed'],
  ],
  4: [[MESHES, '4 count above the real one', '4 trailing bytes']],
  5: [[MESHES, '5 cut within a facet', '5 cut within a face']],
  6: [[MESHES, '6 binary that begins with solid']],
  7: [[MESHES, '7 without endsolid', '7 upper case', '7 CR LF', '7 CR', '7 tabs', '7 decimal commas']],
  8: [
    [MESHES, '8 zero normals'],
    [SCANS, '8 binary STL of small numbers'],
  ],
  9: [
    [MESHES, '9 NaN', '9 infinity', '9 1e38', '9 1e999'],
    [GLB, "['NaN'", "['1e38'"],
    [THREE_MF, '65 NaN', '65 1e999'],
    [SCANS, '9 denormal coordinates'],
  ],
  10: [
    [MESHES, '10 coordinates far from the origin'],
    [SCANS, '10 a scan 10 km from its origin'],
  ],
  11: [
    [SCANS, '11 a scan said to be in mm', '11 the unit proposed'],
    [PROPOSALS, 'right in all four units'],
  ],
  12: [[SCANS, '12 all points identical, or on one line', '12 all points in one plane']],
  13: [
    [CLEANING, 'leaves out zero-area faces, needles and repeats'],
    [SCANS, '13 triangles without area'],
  ],
  14: [
    [CLEANING, 'welds identical and nearly identical corners'],
    [SCANS, '14 every vertex again'],
  ],
  15: [
    [CLEANING, 'turns single faces that wind the other way'],
    [SCANS, '15 %s of the faces wound'],
  ],
  16: [
    [CLEANING, 'keeps an edge of three faces'],
    [SCANS, '16 an edge of three faces and two faces joined'],
  ],
  17: [
    [SCAN_BACK, 'a hole is no data on both paths'],
    [SCANS, '17 pinholes'],
  ],
  18: [
    [CLEANING, 'leaves out islands'],
    [SCANS, 'a floor under it', 'a wall beside it', 'a scrap in the air over it'],
  ],
  19: [[SCANS, 'a sheet through it', '19 a sheet folded over']],
  20: [
    [CLEANING, 'reports a Moebius band as one-sided'],
    [SCANS, '20 a Moebius band'],
  ],
  21: [
    [MESHES, '21 unknown format', '21 format version', '21 no format', '21 the other byte order', '21 big-endian PLY'],
    [ROUND_TRIP, 'through every format'],
  ],
  22: [
    [MESHES, '22 list count 255', '22 list count negative', '22 list count huge', '22 only faces of 2', '22 no z'],
    [MESHES, '22 double', '22 uchar coordinates', '22 further properties', '22 binary faces of 3, 4 and 2 corners'],
    [MESHES, '22 2e9 vertices, 3 lines'],
    [POINTS, '4 billion vertices in the header'],
    [CLAIMS, '4 billion vertices', '4 billion faces'],
  ],
  23: [
    [MESHES, '23 index 0', '23 index above n', '23 index below -n', '23 negative indices', '23 v/vt/vn in any mix'],
    [MESHES, '23 a concave polygon', '23 line continuation', '23 names with spaces', '23 free-form curve'],
    [CLAIMS, '23 OBJ, a face of a vertex 4 billion'],
  ],
  24: [
    [ROUND_TRIP, 'through every format'],
    [SCAN_BACK, 'refuses swapped, reversed, mirrored and upside-down scans'],
    [SCANS, '24 a mirrored horse with marks on its left and right', '24 a mirrored horse with marks of another'],
    [PROPOSALS, 'says that a mirrored scan can not be told'],
  ],
  25: [
    [MESHES, '25 more triangles or bytes than the budget'],
    [SCANS, '25 a back that faces away from the seat', '25 a million triangles'],
  ],
  26: [
    [DOCUMENTS, '26 %j for a document'],
    [PATTERN, "['null'"],
  ],
  27: [
    [JSON_TEXT, 'accepts a byte-order mark', "['UTF-16'", "['invalid UTF-8'", "['NUL in text'", "['NUL outside'"],
    [DOCUMENTS, '27 a byte-order mark', '27 %s: refused', '27 zero bytes within'],
  ],
  28: [
    [JSON_TEXT, '200 000 levels', '200 000 levels of objects'],
    [PATTERN, 'deep nesting'],
  ],
  29: [
    [JSON_TEXT, 'too large a number', 'minus zero and denormals'],
    [DOCUMENTS, '29 minus zero and denormals'],
  ],
  30: [
    [JSON_TEXT, "['NaN'", "['Infinity'"],
    [DOCUMENTS, '30 a number as words', '30 Infinity', '30 NaN'],
  ],
  31: [[JSON_TEXT, 'a duplicate key', 'a duplicate key in disguise']],
  32: [
    [JSON_TEXT, "['__proto__'", "['constructor'", "['prototype'"],
    [DOCUMENTS, '32 own keys that reach'],
  ],
  33: [
    [JSON_TEXT, '33 MB'],
    [DOCUMENTS, '33 a key of a megabyte, and 200,000 keys'],
    [PATTERN, 'a million characters'],
  ],
  34: [
    [DOCUMENTS, '34 a future version'],
    [REFUSALS, 'a newer document'],
  ],
  35: [[DOCUMENTS, '35 a field too many']],
  36: [[DOCUMENTS, '36 a ragged table', '36 a hole in a list', '36 points of two and three numbers']],
  37: [[DOCUMENTS, '37 no length', '37 a negative uncertainty', '37 a huge length', '37 stations that fall']],
  38: [
    [DOCUMENTS, '38 no points', '38 one point', '38 two points', '38 a point many times'],
    [TRACED, 'stations out of order are noted', 'duplicates, reversed order and a closed outline'],
  ],
  39: [
    [DOCUMENTS, '39 a figure of eight'],
    [TRACED, 'a curve that crosses itself', 'duplicates, reversed order and a closed outline'],
  ],
  40: [
    [DOCUMENTS, '40 a second section at the same station', '40 a section that runs askew'],
    [TRACED, 'two tracings of one place are asked about', 'a lengthwise curve 9 mm above one section'],
  ],
  41: [
    [DOCUMENTS, '41 a mesh up a folder', '41 a mesh by address', '41 a mesh by file:'],
    [REFUSALS, 'a mesh above the folder', 'a mesh elsewhere', 'a mesh behind a link'],
  ],
  42: [
    [DOCUMENTS, '42 two curves of one name', '42 an answer to a question that does not arise'],
    [VALUES, "toBe('cycle')"],
    [THREE_MF, '65 components in a loop', '65 an object that is not there'],
  ],
  43: [[REFUSALS, 'a range without an end']],
  44: [[DOCUMENTS, '44 no unit', '44 an unknown unit', '44 a unit of another width']],
  45: [
    [DOCUMENTS, '45 a name of 64 kB', '45 any writing in a name'],
    [MAP, 'names from files can neither break it'],
  ],
  61: [
    [THREE_MF, '61 8 MB of zeros', '61 a zip in the zip', '61 overlapping entries', '61 an entry within another'],
    [CLAIMS, '61 3MF, 64 MB from 64 kB'],
  ],
  62: [[THREE_MF, '62 ../evil', '62 /absolute', '62 C:', '62 duplicate names', '62 names that differ in case']],
  63: [
    [THREE_MF, '63 stated size too small', '63 stated size too large', '63 checksum wrong', '63 encrypted'],
    [THREE_MF, '63 zip64 entry', '63 zip64 archive'],
    [CLAIMS, '63 3MF, a part that states 4 GB'],
  ],
  64: [
    [
      THREE_MF,
      '64 document type',
      '64 entity bomb',
      '64 external entity',
      '64 10,000 attributes',
      '64 another encoding',
    ],
    [CURVES, '<!DOCTYPE svg'],
    [CLAIMS, '64 3MF, an entity bomb'],
  ],
  65: [
    [THREE_MF, '65 unit unknown', '65 no unit means millimetres', '65 a mirroring transform', '65 flattened'],
    [THREE_MF, '65 components in a loop', '65 two build items'],
  ],
  66: [
    [GLB, 'length above the real one', 'JSON padded with zeros', 'external .bin', 'data: address', "['Draco'"],
    [GLB, 'sparse values take the place', 'bytes give the same faces', 'a mirrored node turns its faces'],
    [GLB, '100,000 nodes deep'],
    [CLAIMS, '66 GLB, 4 billion vertices', '66 GLB, a length of 4 GB', '66 GLB, a buffer that states 4 GB'],
  ],
  67: [[MAP, 'names from files can neither break it', 'what XML cannot hold is left out']],
  68: [
    [COMMAND, '68 a scan without an ending', '68 a file of 4 GB', '68 a file that holds more than its stated size'],
    [UNREADABLE, '68 unreadable by %s'],
    [REFUSALS, 'a folder for a file', 'a device', 'a pipe that nobody fills'],
    [MESHES, '68 PLY named stl', '68 STL without an ending'],
  ],
  69: [
    [COMMAND, '69 %s %s writes the same bytes'],
    [FIT, 'in a German environment too'],
  ],
};

/** Meshes 1 to 25, documents 26 to 45, archives and the rest 61 to 69; 46 to 60 are expressions and held with them. */
const NUMBERS = [...Array.from({ length: 45 }, (_, i) => i + 1), ...Array.from({ length: 9 }, (_, i) => i + 61)];

describe('every number of the list of hostile inputs is held by a test', () => {
  it('no number is missing and none is made up', () => {
    expect(Object.keys(LIST).map(Number)).toEqual(NUMBERS);
  });

  it.each(NUMBERS)('%d', (number) => {
    expect(LIST[number]!.length).toBeGreaterThan(0);
    for (const [file, ...titles] of LIST[number]!) {
      const source = readFileSync(new URL(`../../${file}`, import.meta.url), 'utf8');
      expect(titles.length).toBeGreaterThan(0);
      expect(titles.filter((title) => !source.includes(title))).toEqual([]);
    }
  });
});
