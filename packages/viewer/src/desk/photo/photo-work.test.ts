import { describe, expect, it } from 'vitest';
import { liftToSpine } from './document-of.ts';
import { Undoable } from './history.ts';
import { faultsOf, stationMm } from './line-fields.ts';
import type { DocumentCurve } from './photo-answers.ts';
import {
  changeLine,
  lineOf,
  type NewPhoto,
  NOTHING_YET,
  type PhotoWork,
  type Px,
  partsOf,
  withLine,
  withoutLine,
  withoutPhoto,
  withPhoto,
  withPoint,
} from './photo-work.ts';
import { fitBox, movedBox, toPhoto, toScreen, zoomedBox } from './view-box.ts';

const photo = (name: string): NewPhoto => ({
  name,
  widthPx: 400,
  heightPx: 300,
  fullWidthPx: 400,
  fullHeightPx: 300,
});
const two = (): PhotoWork =>
  withPhoto(withPhoto(NOTHING_YET, photo('a'), { photo: 1, line: 2 }, 'mm'), photo('b'), { photo: 3, line: 4 }, 'in');

describe('points of a line', () => {
  const line: Px[] = [
    [0, 0],
    [100, 0],
    [200, 0],
  ];

  it('beyond an end they go on from there, on the line they come between, whichever way it was clicked', () => {
    expect(withPoint(line, [260, 5], 10)).toMatchObject({ index: 3 });
    expect(withPoint(line, [-30, 4], 10)).toMatchObject({ index: 0 });
    expect(withPoint(line, [150, 6], 10)).toMatchObject({ index: 2 });
    expect(withPoint(line, [40, -9], 10).points).toEqual([line[0], [40, -9], line[1], line[2]]);
    expect(withPoint([[7, 7]], [0, 0], 10).index).toBe(1);
  });
});

describe('photos and lines', () => {
  it('the first photo is turned to, the second waits; lines are named on', () => {
    const work = two();
    expect(work.photoId).toBe(1);
    expect(work.photos.map(({ lines }) => lines[0]!.name)).toEqual(['line 1', 'line 2']);
    expect(lineOf(withLine(work, 5, 'mm'))!.name).toBe('line 3');
  });

  it('a stretch of a line that goes away stands on its own again', () => {
    const joined = changeLine(two(), 4, (line) => ({ ...line, partOf: 2 }));
    expect(partsOf(joined, 2).map(({ line }) => line.id)).toEqual([4]);
    for (const gone of [withoutLine(joined, 2, 9, 'mm'), withoutPhoto(joined, 1)]) {
      expect(gone.photos.flatMap(({ lines }) => lines).every(({ partOf }) => partOf === null)).toBe(true);
      expect(lineOf(gone)).not.toBeNull();
    }
  });

  it('a bare number of a field keeps the unit that held when its line began', () => {
    const [inMm, inInches] = two().photos.map(({ lines }) => ({ ...lines[0]!, station: '12 1/2' }));
    expect(stationMm(inInches!)).toBeCloseTo(317.5, 9);
    expect(stationMm({ ...inMm!, station: '300' })).toBe(300);
    expect(stationMm({ ...inInches!, station: '300 mm' })).toBe(300);
    expect(faultsOf({ ...inMm!, station: '3000' }, two()).station).toMatch(/2000 mm behind/);
    expect(faultsOf({ ...inMm!, station: 'behind' }, two()).station).toMatch(/^Expected/);
  });
});

describe('undo', () => {
  it('steps of one name are one, amending is none, and a new change ends what could be redone', () => {
    const count = new Undoable(0);
    for (const step of ['drag 1', 'drag 1', 'drag 1', 'drag 2']) count.change((n) => n + 1, step);
    count.amend((n) => n + 100);
    expect(count.now).toBe(104);
    count.undo();
    expect(count.now).toBe(3);
    count.undo();
    expect(count.now).toBe(0);
    count.redo();
    count.redo();
    expect(count.now).toBe(104);
    count.undo();
    count.change((n) => n + 7);
    count.redo();
    expect(count.now).toBe(10);
  });
});

describe('what is seen of a photo', () => {
  const [size, view] = [
    { width: 4000, height: 3000 },
    { width: 800, height: 600 },
  ];

  it('zooming holds the place under the pointer; screen and photo lead back to each other', () => {
    const box = zoomedBox(fitBox(size, view), size, view, 3, [500, 250]);
    const at = toPhoto(fitBox(size, view), view, [500, 250]);
    const there = toScreen(box, view, at);
    expect(there[0]).toBeCloseTo(500, 9);
    expect(there[1]).toBeCloseTo(250, 9);
    const moved = movedBox(box, size, 30, -20);
    const after = toScreen(moved, view, at);
    expect(after[0]).toBeCloseTo(530, 9);
    expect(after[1]).toBeCloseTo(230, 9);
  });
});

describe('heights from the spine', () => {
  const cross = (stationMm: number, up: number): DocumentCurve => ({
    id: `x${stationMm}`,
    kind: 'cross',
    stationMm,
    points: [
      [-100, up - 40],
      [0, up],
      [100, up - 30],
    ],
  });
  const spine: DocumentCurve = {
    id: 'spine',
    kind: 'lengthwise',
    points: [
      [-50, 30],
      [150, 10],
      [350, 20],
    ],
  };

  it('each section meets the lengthwise curve over the midline; one beyond its ends stays', () => {
    const lifted = liftToSpine([cross(50, 0), cross(250, -70), cross(500, 3), spine]);
    expect(lifted[0]!.points[1]).toEqual([0, 20]);
    expect(lifted[1]!.points).toEqual([
      [-100, -25],
      [0, 15],
      [100, -15],
    ]);
    expect(lifted[2]).toEqual(cross(500, 3));
    expect(liftToSpine([cross(50, 0)])).toEqual([cross(50, 0)]);
  });
});
