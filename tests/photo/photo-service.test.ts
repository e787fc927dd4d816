import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../packages/geometry/src/numeric/index.ts';
import {
  cameraOver,
  paperPicture,
  photograph,
  seenAt,
} from '../../packages/geometry/src/photo/synthetic-photo.fixture.ts';
import {
  type LineRequest,
  type PieceRequest,
  photoService,
} from '../../packages/viewer/src/desk/photo/photo-service.ts';
import { type Line, NOTHING_YET, type Px, withPhoto } from '../../packages/viewer/src/desk/photo/photo-work.ts';

const SIZE = { width: 1500, height: 900 };

/** Skewed on purpose, so that left and right can't be taken for each other. */
const curve: Px[] = Array.from({ length: 221 }, (_, i) => {
  const y = -220 + 2 * i;
  return [y, -20 - 90 * (1 - Math.cos(y / 190)) - 0.08 * y];
});
const heightOf = (y: number): number => -20 - 90 * (1 - Math.cos(y / 190)) - 0.08 * y;

function shoot(photoId: number, seed: number) {
  const sheet = { paper: 'a4', tiles: 3 } as const;
  const picture = paperPicture({ ...sheet, curves: [curve], pixelsPerMm: 3 });
  const camera = cameraOver({ ...sheet, ...SIZE, tiltDeg: 12, axisDeg: 70 * seed, rollDeg: -6, focal: 1.2 });
  const { grey } = photograph(picture, camera, { random: seededRandom(seed), noise: 2, blurPx: 0.5, shade: 0.2 });
  const rgba = new Uint8ClampedArray(4 * grey.length);
  grey.forEach((value, i) => {
    rgba.set([value, value, value, 255], 4 * i);
  });
  photoService.holdPhoto(photoId, rgba, SIZE.width, SIZE.height);
  return camera;
}

const plain = withPhoto(
  NOTHING_YET,
  { name: 'p', widthPx: 1, heightPx: 1, fullWidthPx: 1, fullHeightPx: 1 },
  { photo: 1, line: 2 },
  'mm',
).photos[0]!.lines[0]!;

const request = (
  pieces: readonly PieceRequest[],
  change: Partial<Line>,
  more: Partial<LineRequest> = {},
): LineRequest => ({
  pieces,
  line: { ...plain, ...change },
  stationMm: 200,
  heightMm: 0,
  ...more,
});

describe('lines of a photo by the sheet’s own marks (seeds 1 and 2)', () => {
  const cameras = [shoot(1, 1), shoot(2, 2)];
  const pieceOf = (photoId: 1 | 2, from: number, to: number): PieceRequest => {
    const { found } = photoService.findMarks(photoId);
    const at = (share: number): Px => seenAt(cameras[photoId - 1]!, curve[Math.round(from + share * (to - from))]!);
    const plane = { way: 'sheet', sheet: { paper: found!.paper, tiles: found!.tiles }, found, byHand: {} } as const;
    return { photoId, plane, points: [at(0), at(0.5), at(1)], isSnapped: true };
  };
  const whole = pieceOf(1, 0, 220);

  it('the curve in mm, from end to end, within half a millimetre', () => {
    const read = photoService.readLine(request([whole], {}));
    expect(Math.max(...read.mm.map(([y, z]) => Math.abs(z - heightOf(y))))).toBeLessThan(0.5);
    // Its ends lie where the pen is darkest near the click, within twice a pen's width.
    expect(Math.abs(read.mm[0]![0] + 220)).toBeLessThan(1.6);
    expect(Math.abs(read.mm.at(-1)![0] - 220)).toBeLessThan(1.6);
    expect(read.uncertaintyMm).toBeLessThan(1.5);
    expect(read.warnings).toEqual([]);
  });

  it('seen from the front it is mirrored; a height lifts it; along the spine it counts from its station', () => {
    const front = photoService.readLine(request([whole], { toRight: 'left' }, { heightMm: 1500 }));
    expect(Math.max(...front.mm.map(([y, z]) => Math.abs(z - 1500 - heightOf(-y))))).toBeLessThan(0.5);
    expect(front.mm[0]![0]).toBeLessThan(-215);
    expect(front.levelAtMm).toBe(1500);
    const along = photoService.readLine(request([whole], { kind: 'lengthwise', toRight: 'head' }));
    expect(Math.max(...along.mm.map(([x, z]) => Math.abs(z - heightOf(200 - x))))).toBeLessThan(0.5);
    expect(along.curve.kind).toBe('lengthwise');
  });

  it('a level line of one’s own is made level whichever end was put first, and heights count from it', () => {
    const ends = [
      [-150, -30],
      [150, -20],
    ].map((place) => seenAt(cameras[0]!, place as unknown as Px)) as [Px, Px];
    const turn = Math.atan2(10, 300);
    for (const level of [ends, [ends[1], ends[0]] as [Px, Px]]) {
      const read = photoService.readLine(request([whole], { level }));
      const off = read.mm.map(([y, z]) => {
        // Back to the paper: turned up again about the origin, from the level line's own height.
        const up = z - 25 * Math.cos(turn);
        const [right, height] = [y * Math.cos(turn) - up * Math.sin(turn), y * Math.sin(turn) + up * Math.cos(turn)];
        return Math.abs(height - heightOf(right));
      });
      expect(Math.max(...off)).toBeLessThan(0.6);
    }
  });

  it('two stretches in two photos are joined into one curve', () => {
    const read = photoService.readLine(request([pieceOf(1, 0, 130), pieceOf(2, 100, 220)], {}));
    expect(read.paths).toHaveLength(2);
    expect(read.mm[0]![0]).toBeLessThan(-218);
    expect(read.mm.at(-1)![0]).toBeGreaterThan(218);
    expect(Math.max(...read.mm.map(([y, z]) => Math.abs(z - heightOf(y))))).toBeLessThan(0.6);
  });

  it('four marks put by hand give the same plane as the marks found', () => {
    const { found } = photoService.findMarks(1);
    const names = ['top left', 'top right', 'bottom right', 'bottom left'].map((corner) => `${corner} of sheet 2`);
    const byHand = Object.fromEntries(names.map((name) => [name, found!.marks[name]!]));
    const plane = { way: 'sheet', sheet: { paper: 'a4', tiles: 3 }, found: null, byHand } as const;
    const read = photoService.readLine(request([{ ...whole, plane }], {}));
    expect(Math.max(...read.mm.map(([y, z]) => Math.abs(z - heightOf(y))))).toBeLessThan(1.5);
    expect(() => photoService.readPaper({ ...plane, byHand: { [names[0]!]: [1, 2] } })).toThrow(/three marks or more/);
  });

  it('a click beside the pen is drawn to it, a click on bare paper stays', () => {
    for (const k of [30, 75, 140, 200]) {
      const on = seenAt(cameras[0]!, curve[k]!);
      for (const [dx, dy] of [
        [3, -8],
        [-6, 7],
        [0, 9],
      ] as const) {
        const drawn = photoService.findPen(1, [on[0] + dx, on[1] + dy], 12);
        const away = Math.min(
          ...curve.map((place) => {
            const p = seenAt(cameras[0]!, place);
            return Math.hypot(p[0] - drawn[0], p[1] - drawn[1]);
          }),
        );
        expect(away).toBeLessThan(3);
      }
      const bare: Px = [on[0], on[1] + 60];
      expect(photoService.findPen(1, bare, 12)).toEqual(bare);
    }
  });

  it('where no pen line is, that is said', () => {
    const beside = whole.points.map(([x, y]): Px => [x, y + 90]);
    const read = photoService.readLine(request([{ ...whole, points: beside.slice(0, 2) }], {}));
    expect(read.warnings.join(' ')).toMatch(/no pen line was seen/);
  });
});
