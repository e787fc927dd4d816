import { describe, expect, it } from 'vitest';
import { SHEET_LAYOUT, type SheetPoint, sheetTile } from '../drawing/index.ts';
import { InputError, type Random, seededRandom } from '../numeric/index.ts';
import { curveToPaper } from './curve-to-paper.ts';
import { findSheetMarks, type SheetSearch } from './find-sheet-marks.ts';
import type { GreyImage } from './grey-image.ts';
import {
  ARCH,
  anyCamera,
  anyShot,
  type Camera,
  cameraOver,
  paperPicture,
  photograph,
  seenAt,
  turnPicture,
} from './synthetic-photo.fixture.ts';
import { tracingFromPhoto } from './tracing-from-photo.ts';

/** Largest error of places on the curve that are seen without error, mm: that of the plane alone. */
const planeError = (search: SheetSearch, camera: Camera, line: readonly SheetPoint[] = ARCH): number => {
  const read = curveToPaper(
    line.map((p) => seenAt(camera, p)),
    search.sheet!.plane,
  );
  return Math.max(...read.map((p, i) => Math.hypot(p[0] - line[i]![0], p[1] - line[i]![1])));
};

const three = paperPicture({ paper: 'a4', tiles: 3, curves: [ARCH] });
const SHORT = ARCH.filter(([right]) => Math.abs(right) < 80);
const one = paperPicture({ paper: 'letter', tiles: 1, curves: [SHORT] });

describe('marks in photos of three taped sheets: tilt to 35 degrees, any turn, noise, blur, uneven light', () => {
  it.each([1, 2, 4, 6])('seed %i: all twelve, the plane within 0.15 mm', (seed) => {
    const random = seededRandom(seed);
    const camera = anyCamera(random);
    const search = findSheetMarks(photograph(three, camera, anyShot(random)));
    expect(search.reason).toBe(null);
    expect(search.missing).toEqual([]);
    expect(search.marks.length).toBe(12);
    expect(search.sheet!.tilesSeen).toEqual([1, 2, 3]);
    expect(planeError(search, camera)).toBeLessThan(0.15);
    expect(search.sheet!.plane.straightnessMm!).toBeLessThan(0.15);
    expect(search.sheet!.plane.warnings).toEqual([]);
    for (const { identity, cornersPx } of search.marks) {
      const tile = sheetTile('a4', 3, identity.tile);
      const mark = tile.marks.find((m) => m.corner === identity.corner)!;
      for (const [i, p] of cornersPx.entries()) {
        const known = seenAt(camera, mark.cornersMm[i]!);
        expect(Math.hypot(p[0] - known[0], p[1] - known[1])).toBeLessThan(0.35);
      }
    }
  });
});

describe('one letter sheet', () => {
  const random = seededRandom(31);
  const camera = anyCamera(random, { paper: 'letter', tiles: 1, width: 900, height: 1200 });
  const photo = photograph(one, camera, anyShot(random));

  it.each([0, 1, 2, 3])('turned by %i quarters (seed 31): the same sheet and the same places', (quarters) => {
    const turned = turnPicture(photo, quarters);
    const search = findSheetMarks(turned);
    expect(search.sheet).toMatchObject({ paper: 'letter', tiles: 1, tilesSeen: [1] });
    let place = seenAt(camera, [20, -40]);
    for (let k = 0, height = photo.height; k < quarters; k++, height = k % 2 === 0 ? photo.height : photo.width) {
      place = [height - place[1], place[0]];
    }
    const [read] = curveToPaper([place], search.sheet!.plane);
    expect(Math.hypot(read![0] - 20, read![1] + 40)).toBeLessThan(0.1);
  });

  it('mirrored: nothing, and it says so', () => {
    const { width, height, grey } = photo;
    const flipped = grey.map((_, i) => grey[i - (i % width) + width - 1 - (i % width)]!);
    const search = findSheetMarks({ width, height, grey: flipped });
    expect(search.sheet).toBe(null);
    expect(search.reason).toContain('mirrored');
  });

  const cornerOf = (corner: number): SheetPoint => {
    const [[x, y]] = sheetTile('letter', 1, 1).marks[corner]!.cornersMm;
    return [x + SHEET_LAYOUT.markMm / 2, y - SHEET_LAYOUT.markMm / 2];
  };
  const covered = (corners: readonly number[]): GreyImage => {
    const covers = corners.map((i) => ({ at: cornerOf(i), radiusMm: 6 }));
    const picture = paperPicture({ paper: 'letter', tiles: 1, curves: [SHORT], covers });
    return photograph(picture, camera, anyShot(seededRandom(32)));
  };

  it.each([
    [0, 'top left of sheet 1'],
    [2, 'bottom right of sheet 1'],
  ])('mark %i covered (seed 32): says %s, reads from the others, states more doubt there', (corner, name) => {
    const search = findSheetMarks(covered([corner]));
    expect(search.missing).toEqual([name]);
    expect(search.sheet!.plane.warnings[0]).toContain(name);
    expect(search.sheet!.confidence).toBeLessThan(0.61);
    expect(planeError(search, camera, SHORT)).toBeLessThan(0.3);
  });

  it('two covered: nothing, with both names', () => {
    const search = findSheetMarks(covered([1, 3]));
    expect(search.sheet).toBe(null);
    expect(search.missing).toEqual(['top right of sheet 1', 'bottom left of sheet 1']);
    expect(search.reason).toContain('top left of sheet 1 and bottom right of sheet 1');
  });
});

describe('what would be read wrong is said', () => {
  it.each([
    ['barrel', 0.06],
    ['pincushion', -0.05],
  ])(
    'a lens with %s lines (k = %f, seed 41): discs between the marks are off, and the curve is wrong as well',
    (_, radial) => {
      const random = seededRandom(41);
      const camera = anyCamera(random, { paper: 'letter', tiles: 1, width: 900, height: 1200, tiltDeg: 8, radial });
      const search = findSheetMarks(photograph(one, camera, anyShot(random)));
      expect(search.sheet!.plane.straightnessMm!).toBeGreaterThan(0.35);
      expect(search.sheet!.plane.warnings.join()).toContain('the lens bends lines');
      const error = planeError(search, camera, SHORT);
      expect(error).toBeGreaterThan(0.3);
      const pointsPx = SHORT.map((p) => seenAt(camera, p));
      const { uncertaintyMm } = tracingFromPhoto([{ plane: search.sheet!.plane, pointsPx }], {
        id: 'a',
        kind: 'cross',
      });
      expect(error).toBeLessThan(uncertaintyMm);
    },
  );

  it('a sheet taped 3 mm askew is named (seed 42)', () => {
    const random = seededRandom(42);
    const picture = paperPicture({ paper: 'a4', tiles: 2, curves: [] });
    const by = 3 * picture.pixelsPerMm;
    const half = picture.width / 2;
    const moved = picture.grey.map((g, i) => {
      const [x, y] = [i % picture.width, Math.floor(i / picture.width)];
      if (x < half) return g;
      return y >= by ? picture.grey[i - by * picture.width]! : 245;
    });
    const camera = anyCamera(random, { tiles: 2, tiltDeg: 12 });
    const search = findSheetMarks(photograph({ ...picture, grey: moved }, camera, anyShot(random)));
    expect(search.sheet!.plane.warnings.join()).toContain('taped askew');
    expect(search.sheet!.plane.cornerPx).toBeGreaterThan(0.5);
  });

  it('sheets of two prints in one photo are refused (seed 43)', () => {
    const random = seededRandom(43);
    const shot = (paper: 'a4' | 'letter'): GreyImage =>
      photograph(
        paperPicture({ paper, tiles: 1 }),
        anyCamera(random, { paper, tiles: 1, width: 600, height: 800, tiltDeg: 5 }),
        anyShot(random),
      );
    const [a, b] = [shot('a4'), shot('letter')];
    const grey = new Uint8Array(1200 * 800);
    for (let y = 0; y < 800; y++) {
      grey.set(a.grey.subarray(600 * y, 600 * y + 600), 1200 * y);
      grey.set(b.grey.subarray(600 * y, 600 * y + 600), 1200 * y + 600);
    }
    const search = findSheetMarks({ width: 1200, height: 800, grey });
    expect(search.sheet).toBe(null);
    expect(search.reason).toContain('different prints');
    const twice = new Uint8Array(1200 * 800);
    for (let y = 0; y < 800; y++) {
      for (const at of [0, 600]) twice.set(a.grey.subarray(600 * y, 600 * y + 600), 1200 * y + at);
    }
    expect(findSheetMarks({ width: 1200, height: 800, grey: twice }).reason).toContain('twice');
  });

  it('bad photos, seeds 51 to 62: either nothing with a reason, or right within 1 mm', () => {
    let [read, refused] = [0, 0];
    for (let seed = 51; seed <= 62; seed++) {
      const random = seededRandom(seed);
      const width = 260 + Math.round(500 * random());
      const camera = anyCamera(random, {
        paper: 'letter',
        tiles: 1,
        width,
        height: Math.round(width * 1.3),
        tiltDeg: 50 * random(),
      });
      const shot = { random, noise: 14 * random(), blurPx: 2.5 * random(), shade: 0.85 };
      const search = findSheetMarks(photograph(one, camera, shot));
      if (search.sheet === null) {
        refused++;
        expect(search.reason!.length).toBeGreaterThan(20);
      } else {
        read++;
        expect(planeError(search, camera, SHORT)).toBeLessThan(1);
      }
    }
    expect(read).toBeGreaterThan(2);
    expect(refused).toBeGreaterThan(1);
  });
});

describe('no sheet in the picture', () => {
  const fill = (width: number, height: number, value: (x: number, y: number) => number): GreyImage => ({
    width,
    height,
    grey: Uint8Array.from({ length: width * height }, (_, i) => value(i % width, Math.floor(i / width))),
  });
  const textures: Record<string, (random: Random) => GreyImage> = {
    noise: (random) => fill(400, 300, () => 255 * random()),
    'coarse blocks': (random) => {
      const cells = Array.from({ length: 60 * 45 }, () => (random() < 0.5 ? 20 : 235));
      const side = 5 + Math.floor(8 * random());
      return fill(400, 300, (x, y) => cells[(Math.floor(y / side) % 45) * 60 + (Math.floor(x / side) % 60)]!);
    },
    'frames with other contents': (random) => {
      const words = Array.from({ length: 60 }, () => Math.floor(random() * 2 ** 25));
      const side = 5;
      return fill(480, 300, (x, y) => {
        const [u, v] = [Math.floor((x % 60) / side), Math.floor((y % 60) / side)];
        const word = words[(Math.floor(y / 60) * 10 + Math.floor(x / 60)) % 60]!;
        const [column, row] = [u - 1, v - 1];
        const ring = Math.min(column, row, 8 - column, 8 - row);
        if (ring < 0) return 240;
        if (ring < 2) return ring === 0 ? 15 : 240;
        return ((word >> (5 * (row - 2) + column - 2)) & 1) === 1 ? 15 : 240;
      });
    },
    'planks and rings': (random) => {
      const [a, b, c] = [10 + 30 * random(), 3 + 9 * random(), 6.28 * random()];
      return fill(400, 300, (x, y) => 128 + 60 * Math.sin(x / a + c) + 60 * Math.sin(Math.hypot(x - 200, y - 150) / b));
    },
  };

  it.each(Object.keys(textures))('%s, seeds 1 to 10: null with a reason, no mark that makes a sheet', (name) => {
    for (let seed = 1; seed <= 10; seed++) {
      const search = findSheetMarks(textures[name]!(seededRandom(seed)));
      expect(search.sheet).toBe(null);
      expect(search.marks.length).toBeLessThan(2);
      expect(search.reason).toMatch(/found|mirrored/);
    }
  });

  it('a frame with one of our codes is a mark (the texture above could have been one)', () => {
    const camera = cameraOver({
      width: 500,
      height: 700,
      tiltDeg: 0,
      axisDeg: 0,
      rollDeg: 0,
      focal: 1,
      paper: 'a4',
      tiles: 1,
    });
    const search = findSheetMarks(
      photograph(paperPicture({ paper: 'a4', tiles: 1 }), camera, anyShot(seededRandom(9))),
    );
    expect(search.marks.length).toBe(4);
  });

  it('pictures that are none are refused', () => {
    const codeOf = (image: GreyImage): string => {
      try {
        findSheetMarks(image);
        return 'none';
      } catch (error) {
        return error instanceof InputError ? error.code : 'other';
      }
    };
    expect(codeOf({ width: 4, height: 4, grey: new Uint8Array(15) })).toBe('inconsistent');
    expect(codeOf({ width: 0, height: 0, grey: new Uint8Array(0) })).toBe('empty');
    expect(codeOf({ width: 100_000, height: 100_000, grey: new Uint8Array(1) })).toBe('too-large');
    expect(codeOf({ width: 3, height: 2, grey: new Uint8Array(6) })).toBe('none');
  });
});
