/**
 * Identities of the corner marks: 5 x 5 cells, bit 5 row + column, rows from the top, set = black. Eighty words, found by
 * a seeded search so that any two differ in 7 cells or more, however the mark is turned or mirrored, and each from its
 * own turns and mirror images too. Two wrong cells are therefore mended without doubt. Printed sheets depend on them:
 * never change or reorder.
 */
const WORDS: readonly number[] = [
  0x03fdf07, 0x04823fc, 0x01ed2c3, 0x0fe59a6, 0x0f3e689, 0x1e646ad, 0x01d04ad, 0x1e17b66, 0x1f1da04, 0x182b558,
  0x1d7e2dc, 0x0730e6a, 0x16a3e65, 0x07c1a8d, 0x0ec3773, 0x10b268d, 0x13cdcd0, 0x0289f34, 0x0af1c30, 0x1d48dc0,
  0x02e76a4, 0x1f96225, 0x1714a38, 0x10209fa, 0x136674f, 0x13b7930, 0x17d511a, 0x09e57f5, 0x17593c6, 0x0ffca53,
  0x1a8214f, 0x109d26b, 0x16287e8, 0x0f082cc, 0x149a10b, 0x19f4f86, 0x034cdad, 0x06a1ebf, 0x0d50f32, 0x1124ec9,
  0x07828a3, 0x1140f66, 0x04116a7, 0x06995dd, 0x131e92b, 0x0b8f704, 0x0474e03, 0x106b365, 0x03d9c9b, 0x1af8757,
  0x15e7b68, 0x0bb32b4, 0x1333ea1, 0x1c47f4b, 0x1ad42d1, 0x1933ac4, 0x16134e0, 0x0ab5b9f, 0x0d32a21, 0x1bed995,
  0x153dc59, 0x1b16bd3, 0x08b661b, 0x188869b, 0x025e53e, 0x196da1f, 0x1f70fcc, 0x172158c, 0x1c42456, 0x1e6487c,
  0x0aac9ec, 0x0e88cb8, 0x08d63a0, 0x11e9ebc, 0x0491961, 0x0c191a8, 0x00d3e3c, 0x042d845, 0x18c5d9f, 0x0539bc8,
];

export const SHEET_PAPERS = ['a4', 'letter'] as const;
export type SheetPaper = (typeof SHEET_PAPERS)[number];

export const SHEET_CORNERS = ['top left', 'top right', 'bottom right', 'bottom left'] as const;
export type SheetCorner = (typeof SHEET_CORNERS)[number];

export const MOST_TILES = 4;
/** Cells along a side of the code, and of the whole mark: black frame, white ring, code. */
export const CODE_CELLS = 5;
export const MARK_CELLS = 9;

/** What one mark says: which corner of which sheet of how many, on which paper. */
export interface SheetMarkIdentity {
  readonly paper: SheetPaper;
  readonly tiles: number;
  /** From the left, 1-based. */
  readonly tile: number;
  readonly corner: SheetCorner;
}

/** Every identity with its code, in the order of the words. */
export const SHEET_MARK_CODES: readonly (SheetMarkIdentity & { readonly code: number })[] = Object.freeze(
  SHEET_PAPERS.flatMap((paper) =>
    Array.from({ length: MOST_TILES }, (_, n) => n + 1).flatMap((tiles) =>
      Array.from({ length: tiles }, (_, k) => k + 1).flatMap((tile) =>
        SHEET_CORNERS.map((corner) => ({ paper, tiles, tile, corner })),
      ),
    ),
  ).map((identity, i) => ({ ...identity, code: WORDS[i]! })),
);

/** A code turned a quarter clockwise. */
export function turnCode(code: number): number {
  let turned = 0;
  for (let row = 0; row < CODE_CELLS; row++) {
    for (let column = 0; column < CODE_CELLS; column++) {
      if (((code >> (CODE_CELLS * row + column)) & 1) === 1)
        turned |= 1 << (CODE_CELLS * column + CODE_CELLS - 1 - row);
    }
  }
  return turned;
}

/** A code seen in a mirror, left and right exchanged. */
export function mirrorCode(code: number): number {
  let mirrored = 0;
  for (let row = 0; row < CODE_CELLS; row++) {
    for (let column = 0; column < CODE_CELLS; column++) {
      if (((code >> (CODE_CELLS * row + column)) & 1) === 1)
        mirrored |= 1 << (CODE_CELLS * row + CODE_CELLS - 1 - column);
    }
  }
  return mirrored;
}

/** Cells in which two codes differ. */
export function codeDistance(a: number, b: number): number {
  let count = 0;
  for (let bits = a ^ b; bits !== 0; bits &= bits - 1) count++;
  return count;
}
