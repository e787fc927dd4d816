import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/index.ts';
import { SHEET_UNITS } from './sheet-pen.ts';
import { isBlackCell, tracingSheet } from './tracing-sheet.ts';
import {
  codeDistance,
  MARK_CELLS,
  mirrorCode,
  SHEET_MARK_CODES,
  SHEET_PAPERS,
  turnCode,
} from './tracing-sheet-codes.ts';
import { SHEET_CELL_MM, SHEET_LAYOUT, type SheetPoint, sheetsWidthMm, sheetTile } from './tracing-sheet-layout.ts';

const sightings = (code: number): number[] => {
  const turns = [code, turnCode(code), turnCode(turnCode(code)), turnCode(turnCode(turnCode(code)))];
  return [...turns, ...turns.map(mirrorCode)];
};

describe('codes of the corner marks', () => {
  it('80 of them: every paper, number of sheets, sheet and corner once', () => {
    const names = SHEET_MARK_CODES.map((m) => `${m.paper} ${m.tile}/${m.tiles} ${m.corner}`);
    expect(names.length).toBe(2 * (1 + 2 + 3 + 4) * 4);
    expect(new Set(names).size).toBe(names.length);
  });

  it('differ in 7 cells or more from each other and from their own turns and mirror images (all pairs)', () => {
    let least = 25;
    for (const [i, a] of SHEET_MARK_CODES.entries()) {
      for (const seen of sightings(a.code).slice(1)) least = Math.min(least, codeDistance(a.code, seen));
      for (const b of SHEET_MARK_CODES.slice(i + 1)) {
        for (const seen of sightings(b.code)) least = Math.min(least, codeDistance(a.code, seen));
      }
    }
    expect(least).toBe(7);
  });

  it('four quarter turns and two mirrors give a code back; one turn moves the first row to the last column', () => {
    for (const { code } of SHEET_MARK_CODES) {
      expect(turnCode(turnCode(turnCode(turnCode(code))))).toBe(code);
      expect(mirrorCode(mirrorCode(code))).toBe(code);
    }
    expect(turnCode(0b11111)).toBe(0b10000_10000_10000_10000_10000);
    expect(mirrorCode(0b00001)).toBe(0b10000);
  });
});

describe('layout of the sheets', () => {
  it.each(SHEET_PAPERS)(
    '%s: neighbours meet on their tape lines, marks stay clear of them, all about the midline',
    (paper) => {
      for (let tiles = 1; tiles <= 4; tiles++) {
        const all = Array.from({ length: tiles }, (_, k) => sheetTile(paper, tiles, k + 1));
        for (const [k, tile] of all.entries()) {
          const cutAt = tile.leftTopMm[0] + SHEET_LAYOUT.tapeMm;
          if (k > 0) expect(cutAt).toBeCloseTo(all[k - 1]!.leftTopMm[0] + tile.widthMm - SHEET_LAYOUT.tapeMm, 9);
          for (const mark of tile.marks) {
            const rights = mark.cornersMm.map(([right]) => right);
            expect(Math.min(...rights) - cutAt).toBeGreaterThanOrEqual(4 - 1e-9);
            expect(cutAt + tile.widthMm - 2 * SHEET_LAYOUT.tapeMm - Math.max(...rights)).toBeGreaterThanOrEqual(
              4 - 1e-9,
            );
          }
          const [topLeft, topRight, , bottomLeft] = tile.marks;
          expect(topRight!.cornersMm[1][0] - topLeft!.cornersMm[0][0]).toBeCloseTo(tile.acrossMm, 9);
          expect(topLeft!.cornersMm[0][1] - bottomLeft!.cornersMm[3][1]).toBeCloseTo(tile.downMm, 9);
        }
        const edges = [all[0]!.leftTopMm[0], all.at(-1)!.leftTopMm[0] + all[0]!.widthMm];
        expect(edges[0]! + edges[1]!).toBeCloseTo(0, 9);
        expect(edges[1]! - edges[0]!).toBeCloseTo(sheetsWidthMm(paper, tiles), 9);
      }
      expect(sheetsWidthMm('a4', 3)).toBe(590);
    },
  );

  it('refuses other papers and counts by field', () => {
    const codeOf = (make: () => unknown): string | undefined => {
      try {
        make();
        return undefined;
      } catch (error) {
        return error instanceof InputError ? `${error.code} ${error.details.field}` : 'other';
      }
    };
    expect(codeOf(() => tracingSheet({ paper: 'a3' as 'a4' }))).toBe('unknown-name paper');
    expect(codeOf(() => tracingSheet({ paper: 'a4', tiles: 5 }))).toBe('out-of-range tiles');
    expect(codeOf(() => tracingSheet({ paper: 'a4', tiles: 1.5 }))).toBe('out-of-range tiles');
    expect(codeOf(() => sheetTile('a4', 2, 3))).toBe('out-of-range tile');
  });
});

describe('the printed page', () => {
  /** Left top and right bottom of every black run, mm. */
  const runs = (svg: string): [SheetPoint, SheetPoint][] =>
    [...svg.matchAll(/M([\d.]+) ([\d.]+)H([\d.]+)V([\d.]+)H\1Z/g)].map(([, x1, y1, x2, y2]) => [
      [Number(x1) / SHEET_UNITS, Number(y1) / SHEET_UNITS],
      [Number(x2) / SHEET_UNITS, Number(y2) / SHEET_UNITS],
    ]);
  const inside = ([x, y]: SheetPoint, [a, c]: [SheetPoint, SheetPoint]): boolean =>
    x > a[0] && x < c[0] && y > a[1] && y < c[1];

  it.each([
    ['a4', 3, 'width="210mm" height="297mm" viewBox="0 0 840 1188"'],
    ['letter', 2, 'width="215.9mm" height="279.4mm" viewBox="0 0 863.6 1117.6"'],
  ] as const)(
    '%s x %i: true size, and every cell of every mark is black or white as its code says',
    (paper, tiles, size) => {
      const pages = tracingSheet({ paper, tiles });
      expect(pages.length).toBe(tiles);
      for (const [k, svg] of pages.entries()) {
        expect(svg).toContain(size);
        const tile = sheetTile(paper, tiles, k + 1);
        const drawn = runs(svg);
        for (const mark of tile.marks) {
          const [left, up] = mark.cornersMm[0];
          for (let row = 0; row < MARK_CELLS; row++) {
            for (let column = 0; column < MARK_CELLS; column++) {
              const at: SheetPoint = [
                left + (column + 0.5) * SHEET_CELL_MM - tile.leftTopMm[0],
                tile.leftTopMm[1] - up + (row + 0.5) * SHEET_CELL_MM,
              ];
              expect(drawn.some((box) => inside(at, box))).toBe(isBlackCell(mark.code, row, column));
            }
          }
        }
      }
    },
  );

  it('says which sheet it is, how to check its size, and has no text beyond the paper', () => {
    for (const [k, svg] of tracingSheet({ paper: 'a4' }).entries()) {
      expect(svg).toContain(`Tracing sheet ${k + 1} of 3, A4`);
      expect(svg).toContain('Print at 100 %, measure this bar: 100 mm.');
      expect(svg).toContain('182.0 mm between the outer edges of the marks');
      for (const [, x, y] of svg.matchAll(/<text x="([\d.-]+)" y="([\d.-]+)"/g)) {
        expect(Number(x)).toBeGreaterThan(5 * SHEET_UNITS);
        expect(Number(x)).toBeLessThan(207 * SHEET_UNITS);
        expect(Number(y)).toBeLessThan(292 * SHEET_UNITS);
      }
    }
  });
});
