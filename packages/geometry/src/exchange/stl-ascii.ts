import type { RawMesh, ReadLimits } from './raw-mesh.ts';
import { refuse } from './refuse.ts';
import { StlFacets } from './stl-welded.ts';
import { TextScanner } from './text-scanner.ts';

const REMEDY = 'The file was cut off or edited; export the mesh again as STL.';

/** ASCII STL with either case, any line ends and indentation; several solids in one file become one mesh. */
export function readAsciiStl(bytes: Uint8Array, limits: ReadLimits): RawMesh {
  const hasMark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  const scan = new TextScanner(bytes, hasMark ? 3 : 0);
  const facets = new StlFacets(0, limits);
  let open = false;
  let solids = 0;
  while (scan.startLine()) {
    const word = keyword(scan);
    if (word === 'solid' && !open) {
      open = true;
      solids++;
      scan.skipLine();
    } else if (word === 'facet' && open) readFacet(scan, facets);
    else if (word === 'endsolid' && open) {
      open = false;
      scan.skipLine();
    } else refuse('malformed', scan.place(), scan.token(), open ? 'facet or endsolid' : 'solid', REMEDY);
  }
  const warnings: string[] = [];
  if (open) warnings.push('The closing "endsolid" is missing; the file may have been cut off between two facets.');
  if (solids > 1) warnings.push(`${solids} solids were read as one mesh.`);
  return facets.finish(warnings);
}

function readFacet(scan: TextScanner, facets: StlFacets): void {
  expectWord(scan, 'normal');
  for (let k = 0; k < 3; k++) if (!scan.skipToken()) refuseWord(scan, 'three numbers after "normal"');
  expectWord(scan, 'outer');
  expectWord(scan, 'loop');
  for (let k = 0; k < 3; k++) {
    expectWord(scan, 'vertex');
    const x = coordinate(scan);
    const y = coordinate(scan);
    facets.addVertex(x, y, coordinate(scan));
    if (!scan.atLineEnd()) {
      scan.skipToken();
      refuseWord(scan, 'three coordinates and then a new line');
    }
  }
  expectWord(scan, 'endloop');
  expectWord(scan, 'endfacet');
}

function coordinate(scan: TextScanner): number {
  const value = scan.number();
  if (!Number.isNaN(value)) return value;
  const word = scan.token();
  if (/^[+-]?(nan|inf)/i.test(word)) refuse('not-a-number', scan.place(), word, 'finite coordinates', REMEDY);
  const remedy = word.includes(',') ? 'Write decimals with a point, not a comma.' : REMEDY;
  return refuse(scan.pos >= scan.bytes.length ? 'truncated' : 'syntax', scan.place(), word, 'a coordinate', remedy);
}

/** The next word, in lower case; empty at the end of the file. */
function keyword(scan: TextScanner): string {
  scan.startLine();
  if (scan.skipToken()) return scan.token().toLowerCase();
  scan.tokenStart = scan.pos;
  return '';
}

function expectWord(scan: TextScanner, expected: string): void {
  if (keyword(scan) !== expected) refuseWord(scan, `the word "${expected}"`);
}

function refuseWord(scan: TextScanner, expected: string): never {
  const word = scan.token();
  refuse(scan.pos >= scan.bytes.length ? 'truncated' : 'malformed', scan.place(), word, expected, REMEDY);
}
