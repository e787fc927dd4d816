import { type SheetMarkIdentity, sheetTile } from '../drawing/index.ts';
import { checkImage, type GreyImage, type PixelPoint, shrinkImage } from './grey-image.ts';
import { darkBlobs } from './mark-blobs.ts';
import { readMarkCode } from './mark-code.ts';
import { type Quad, quadOfBlob, refineQuad } from './mark-quad.ts';
import { type FoundSheet, sheetOfMarks } from './sheet-of-marks.ts';

export interface FoundMark {
  readonly identity: SheetMarkIdentity;
  /** Outer corners of its frame: its own top left, top right, bottom right, bottom left, px. */
  readonly cornersPx: Quad;
  /** Standard deviation of a corner's place, px, from how straight its sides were seen. */
  readonly cornerPx: number;
  /** Cells of the code that had to be mended. */
  readonly wrongCells: number;
  /** 0 to 1: contrast and mended cells. For ordering and showing; no part of any figure. */
  readonly confidence: number;
}

/** What was found in a photo. `sheet` is null where nothing can be read from it, and `reason` then says why. */
export interface SheetSearch {
  readonly sheet: FoundSheet | null;
  readonly reason: string | null;
  /** Every mark of ours, whether or not it was enough. */
  readonly marks: readonly FoundMark[];
  /** Marks that should be there and were not found: "bottom left of sheet 2". */
  readonly missing: readonly string[];
}

/** Marks are looked for in a picture of about this size and measured in the whole one. */
const SEARCH_PIXELS = 4_000_000;
const LEAST_SIDE_PX = 14;
/** Ways to look, until one finds four marks of every sheet: window as a share of the picture, darkness. */
const PASSES = [
  { windowShare: 1 / 12, darkShare: 0.8 },
  { windowShare: 1 / 30, darkShare: 0.86 },
  { windowShare: 1 / 4, darkShare: 0.72 },
] as const;

/**
 * Finds the marks of our tracing sheets in a photo, says which sheets they are, and gives the way from pixels to the
 * paper. Works for any turn and for tilts up to about 50 degrees; a mark must be 14 pixels wide or more, uncovered, with
 * white paper about it. Random pictures give null, for a mark needs its frame, its white ring, and 23 of 25 cells of one
 * of 80 codes, and a sheet three marks that lie as printed.
 * @throws InputError as checkImage
 */
export function findSheetMarks(image: GreyImage): SheetSearch {
  checkImage(image);
  const by = Math.max(1, Math.ceil(Math.sqrt((image.width * image.height) / SEARCH_PIXELS)));
  const small = shrinkImage(image, by);
  const marks: FoundMark[] = [];
  let mirrored = 0;
  for (const pass of PASSES) {
    for (const quad of candidates(small, pass)) {
      const read = readQuad(image, scaleQuad(quad, by));
      if (read === 'mirrored') mirrored++;
      if (read === null || read === 'mirrored' || marks.some((m) => isSamePlace(m, read))) continue;
      marks.push(read);
    }
    if (marks.length >= 4 && hasAllCorners(marks)) break;
  }
  if (marks.length === 0 && mirrored > 0) {
    const reason = 'The photo is mirrored: the marks are seen as in a mirror. Turn off mirroring of the camera.';
    return { sheet: null, reason, marks, missing: [] };
  }
  return { ...sheetOfMarks(image, marks), marks };
}

function candidates(image: GreyImage, pass: (typeof PASSES)[number]): Quad[] {
  const size = Math.max(image.width, image.height);
  const options = {
    windowPx: Math.round(pass.windowShare * size),
    darkShare: pass.darkShare,
    leastPx: LEAST_SIDE_PX,
    mostPx: Math.round(0.4 * size),
  };
  return darkBlobs(image, options).flatMap((blob) => {
    const quad = quadOfBlob(blob);
    return quad === null ? [] : [quad];
  });
}

const scaleQuad = (quad: Quad, by: number): Quad =>
  by === 1 ? quad : (quad.map(([x, y]): PixelPoint => [x * by, y * by]) as unknown as Quad);

function readQuad(image: GreyImage, rough: Quad): FoundMark | 'mirrored' | null {
  const refined = refineQuad(image, rough);
  if (refined === null) return null;
  const read = readMarkCode(image, refined.quad);
  if (read === null) return null;
  if (read.isMirrored) return 'mirrored';
  const cornersPx = [0, 1, 2, 3].map((i) => refined.quad[(i + read.firstCorner) % 4]!) as unknown as Quad;
  return {
    identity: read.identity,
    cornersPx,
    cornerPx: refined.sdPx,
    wrongCells: read.wrongCells,
    confidence: Math.min(1, read.contrast / 80) * (1 - read.wrongCells / 3),
  };
}

const nameOf = ({ paper, tiles, tile, corner }: SheetMarkIdentity): string => `${paper} ${tiles} ${tile} ${corner}`;

/** The same mark seen in another pass. */
const isSamePlace = (a: FoundMark, b: FoundMark): boolean =>
  nameOf(a.identity) === nameOf(b.identity) &&
  Math.hypot(a.cornersPx[0][0] - b.cornersPx[0][0], a.cornersPx[0][1] - b.cornersPx[0][1]) < 4;

function hasAllCorners(marks: readonly FoundMark[]): boolean {
  const found = new Set(marks.map((m) => nameOf(m.identity)));
  return marks.every(({ identity: { paper, tiles, tile } }) =>
    sheetTile(paper, tiles, tile).marks.every(({ corner }) => found.has(nameOf({ paper, tiles, tile, corner }))),
  );
}
