import {
  CODE_CELLS,
  codeDistance,
  MARK_CELLS,
  mirrorCode,
  SHEET_MARK_CODES,
  type SheetMarkIdentity,
  turnCode,
} from '../drawing/index.ts';
import { InputError } from '../numeric/index.ts';
import { type GreyImage, greyAt } from './grey-image.ts';
import { homographyFromPoints } from './homography-from-points.ts';
import type { Quad } from './mark-quad.ts';
import { type Matrix3, through } from './matrix3.ts';

export interface ReadMark {
  readonly identity: SheetMarkIdentity;
  /** Corner of the quad that is the mark's own top left: 0 to 3. */
  readonly firstCorner: number;
  readonly isMirrored: boolean;
  /** Cells of the code that had to be mended, 0 to 2. */
  readonly wrongCells: number;
  /** Light less dark, grey values. */
  readonly contrast: number;
}

const MOST_WRONG = 2;
const MOST_WRONG_AROUND = 2;
const LEAST_CONTRAST = 24;
/** Where in a cell it is looked at, in cells from its middle. */
const LOOKS = [
  [0, 0],
  [-0.2, -0.2],
  [0.2, -0.2],
  [0.2, 0.2],
  [-0.2, 0.2],
] as const;

/** What a mark says whose frame has these corners, clockwise; null where it is none of ours. */
export function readMarkCode(image: GreyImage, quad: Quad): ReadMark | null {
  const toImage = cellsToImage(quad);
  if (toImage === null) return null;
  const cells = Array.from({ length: MARK_CELLS * MARK_CELLS }, (_, i) => {
    const [row, column] = [Math.floor(i / MARK_CELLS), i % MARK_CELLS];
    let sum = 0;
    for (const [dx, dy] of LOOKS) {
      const [x, y] = through(toImage, [column + 0.5 + dx, row + 0.5 + dy]);
      sum += greyAt(image, x, y);
    }
    return sum / LOOKS.length;
  });
  const ringOf = (i: number): number => {
    const [row, column] = [Math.floor(i / MARK_CELLS), i % MARK_CELLS];
    return Math.min(row, column, MARK_CELLS - 1 - row, MARK_CELLS - 1 - column);
  };
  const frame = cells.filter((_, i) => ringOf(i) === 0);
  const ring = cells.filter((_, i) => ringOf(i) === 1);
  const [dark, light] = [median(frame), median(ring)];
  const contrast = light - dark;
  if (contrast < LEAST_CONTRAST) return null;
  const limit = (dark + light) / 2;
  const wrongAround = frame.filter((g) => g > limit).length + ring.filter((g) => g < limit).length;
  if (wrongAround > MOST_WRONG_AROUND) return null;
  const margin = (MARK_CELLS - CODE_CELLS) / 2;
  let seen = 0;
  for (let row = 0; row < CODE_CELLS; row++) {
    for (let column = 0; column < CODE_CELLS; column++) {
      if (cells[(row + margin) * MARK_CELLS + column + margin]! < limit) seen |= 1 << (CODE_CELLS * row + column);
    }
  }
  const match = matchCode(seen);
  return match === null ? null : { ...match, contrast };
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;

function cellsToImage(quad: Quad): Matrix3 | null {
  const n = MARK_CELLS;
  const corners = [
    [0, 0],
    [n, 0],
    [n, n],
    [0, n],
  ] as const;
  try {
    return homographyFromPoints(quad, corners).paperToImage;
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** Every code as it may be seen: turned k quarters clockwise, as it is or in a mirror. */
const SIGHTINGS = SHEET_MARK_CODES.flatMap(({ code, ...identity }) =>
  [false, true].flatMap((isMirrored) => {
    let seen = isMirrored ? mirrorCode(code) : code;
    return [0, 1, 2, 3].map((firstCorner) => {
      const sighting = { identity, firstCorner, isMirrored, seen };
      seen = turnCode(seen);
      return sighting;
    });
  }),
);

function matchCode(seen: number): Omit<ReadMark, 'contrast'> | null {
  for (const { identity, firstCorner, isMirrored, seen: known } of SIGHTINGS) {
    const wrongCells = codeDistance(seen, known);
    if (wrongCells <= MOST_WRONG) return { identity, firstCorner, isMirrored, wrongCells };
  }
  return null;
}
