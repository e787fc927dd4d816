import { proposeScan, type TriangleMesh } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { demoMesh, filePlace, movedMesh, smallTurn } from '../../packages/geometry/src/back/propose-scan.fixture.ts';
import { amended, changed, redone, startHistory, undone } from '../../packages/viewer/src/desk/history.ts';
import { drawnMesh, middleOf } from '../../packages/viewer/src/desk/scan/drawing-mesh.ts';
import { horseFrame, intoFile, intoHorse, roundLength } from '../../packages/viewer/src/desk/scan/horse-frame.ts';
import { proposeFor } from '../../packages/viewer/src/desk/scan/propose-for.ts';
import { type Choices, NO_CHOICES, swapped, withMark } from '../../packages/viewer/src/desk/scan/scan-choices.ts';
import {
  proposedWay,
  sameWay,
  WAY_MOVES,
  type Way,
  wayFromAxes,
} from '../../packages/viewer/src/desk/scan/scan-way.ts';
import { takenOut } from '../../packages/viewer/src/desk/scan/taken-out.ts';

const WAY: Way = { tail: '-y', right: '-z', up: '+x', turn: null, isMirrored: false };
const place = filePlace({ tail: '-y', right: '-z', up: '+x' }, 'in', smallTurn(2, -3, 4));
const { back, mesh: level } = demoMesh('dumpling', 12);
const mesh = movedMesh(level, place);
const none = { withersTop: null, lastRib: null, midplane: null };

describe('ways of lying', () => {
  test.each(['round', 'over', 'mirror'] as const)('%s twice is nothing', (key) => {
    const { move } = WAY_MOVES[key];
    expect(sameWay(move(WAY), WAY)).toBe(false);
    expect(sameWay(move(move(WAY)), WAY)).toBe(true);
  });

  test.each(['side', 'across'] as const)('%s four times is nothing, twice is not', (key) => {
    const { move } = WAY_MOVES[key];
    expect(sameWay(move(move(WAY)), WAY)).toBe(false);
    expect(sameWay(move(move(move(move(WAY)))), WAY)).toBe(true);
  });

  test('right follows from tail and up, by the other hand for a mirrored file', () => {
    expect(wayFromAxes(WAY, '-y', '+x')).toEqual(WAY);
    expect(wayFromAxes({ ...WAY, isMirrored: true }, '-y', '+x')?.right).toBe('+z');
    expect(wayFromAxes(WAY, '-y', '+y')).toBeNull();
  });
});

describe('the horse frame of the picture', () => {
  const drawn = drawnMesh(mesh, middleOf(mesh));

  test('there and back is where one was, and lengths are millimetres', () => {
    const frame = horseFrame(WAY, 'in', none, drawn);
    const p = place(back.landmarks.lowPoint);
    const q = place(back.landmarks.lastRib);
    const [a, b] = [intoHorse(frame, drawn.centre, p), intoHorse(frame, drawn.centre, q)];
    intoFile(frame, drawn.centre, a).forEach((value, k) => {
      expect(value).toBeCloseTo(p[k]!, 9);
    });
    const truth = Math.hypot(...[0, 1, 2].map((k) => back.landmarks.lowPoint[k]! - back.landmarks.lastRib[k]!));
    expect(Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])).toBeCloseTo(truth, 6);
    expect(b[0]).toBeGreaterThan(a[0]);
  });

  test('withers top and last rib lie on the midplane, and turning round puts the tail first', () => {
    const marks = { ...none, withersTop: place(back.landmarks.withersTop), lastRib: place(back.landmarks.lastRib) };
    const frame = horseFrame(WAY, 'in', marks, drawn);
    for (const p of [marks.withersTop, marks.lastRib]) expect(intoHorse(frame, drawn.centre, p)[1]).toBeCloseTo(0, 6);
    const round = horseFrame(WAY_MOVES.round.move(WAY), 'in', none, drawn);
    const x = (p: readonly [number, number, number]): number => intoHorse(round, drawn.centre, p)[0];
    expect(x(marks.lastRib)).toBeLessThan(x(marks.withersTop));
  });

  test('a round length is 1, 2 or 5 times a power of ten', () => {
    expect([312, 200, 1999, 0.7, 5].map(roundLength)).toEqual([200, 200, 1000, 0.5, 5]);
  });
});

describe('asking with a way that was said', () => {
  test('gives the landmarks that the same way gives when it is proposed', () => {
    const free = proposeScan({ mesh });
    const said = proposeFor({ mesh }, 'in', proposedWay(free), {});
    for (const name of ['withersTop', 'lowPoint', 'lastRib'] as const)
      said.landmarks[name].value!.forEach((value, k) => {
        expect(Math.abs(value - free.landmarks[name].value![k]!) * 25.4, name).toBeLessThan(3);
      });
    expect(said.tail).toMatchObject({ value: free.tail.value, given: true });
  });

  test('a mirrored file: the blade edge named left lies where the horse has it', () => {
    const turned = movedMesh(mesh, (p) => [p[0]!, p[1]!, -p[2]!]);
    const flipped = { positions: turned.positions, triangles: mesh.triangles };
    const way = WAY_MOVES.mirror.move({ ...WAY });
    const found = proposeFor({ mesh: flipped }, 'in', way, {});
    const straight = proposeFor({ mesh }, 'in', WAY, {});
    const [a, b] = [found.landmarks.bladeEdgeLeft.value!, straight.landmarks.bladeEdgeLeft.value!];
    expect(Math.hypot(a[0] - b[0], a[1] - b[1], a[2] + b[2]) * 25.4).toBeLessThan(4);
  });
});

describe('choices', () => {
  const at = (x: number) => [x, 0, 0] as const;

  test('nudges in a row are one step; a more exact point is none', () => {
    const first = changed(startHistory<Choices>(NO_CHOICES), { ...NO_CHOICES, unit: 'mm' });
    const nudged = [1, 2, 3].reduce(
      (history, x) =>
        changed(history, { ...history.now, marks: withMark(history.now.marks, 'lowPoint', at(x)) }, 'nudge lowPoint'),
      first,
    );
    const history = amended(nudged, { ...nudged.now, marks: { lowPoint: at(3.01) } });
    expect(history.past).toHaveLength(2);
    const before = undone(history);
    expect(before.now).toMatchObject({ unit: 'mm', marks: {} });
    expect(redone(before).now.marks.lowPoint).toEqual(at(3.01));
    expect(undone(undone(before)).now).toEqual(NO_CHOICES);
  });

  test('left and right under each other’s names, also when only one is there', () => {
    expect(swapped({ bladeEdgeLeft: at(1), lowPoint: at(2) })).toEqual({ bladeEdgeRight: at(1), lowPoint: at(2) });
  });
});

describe('what is drawn', () => {
  test('a thinned mesh keeps to the surface and to its size', () => {
    const thin = drawnMesh(mesh, middleOf(mesh), 1500);
    expect(thin.triangles.length / 3).toBeLessThan(3000);
    expect(thin.triangles.length / 3).toBeGreaterThan(500);
    const all = drawnMesh(mesh, middleOf(mesh));
    const reach = (p: Float32Array): number => Math.max(...p.map(Math.abs));
    expect(reach(thin.positions)).toBeGreaterThan(0.95 * reach(all.positions));
    for (let i = 0; i < thin.normals.length; i += 3)
      expect(Math.hypot(...thin.normals.subarray(i, i + 3))).toBeCloseTo(1, 5);
  });

  test('taken out is what is no more, a turned triangle is still there', () => {
    const before: TriangleMesh = {
      positions: new Float64Array(18),
      triangles: Uint32Array.from([0, 1, 2, 1, 2, 3, 2, 3, 4, 3, 4, 5]),
    };
    const after = { ...before, triangles: Uint32Array.from([2, 1, 0, 3, 4, 5]) };
    expect([...takenOut(before, after).triangles]).toEqual([1, 2, 3, 2, 3, 4]);
    expect(takenOut(before, before).triangles).toHaveLength(0);
  });
});
