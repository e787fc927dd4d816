import {
  buildBack,
  meshFromPoints,
  proposeUnit,
  readMesh,
  readStl,
  type TriangleMesh,
  writePly,
  writeStl,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import {
  awayFromClean,
  mapPositions,
  NET,
  refusal,
  scanDocument,
  throughFile,
  withMore,
} from './horse-scan.fixture.ts';

/**
 * Scans spoiled in the ways that scans are, each through file, cleaning and frame to a back: the same heights as unspoiled
 * or a refusal. Numbers are those of the list of hostile inputs; common practice, no source.
 */
const latin1 = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));
const first = NET.positions.length / 3;

/** NET with some of its faces wound the other way. */
const turned = (which: (face: number) => boolean): TriangleMesh => ({
  positions: NET.positions,
  triangles: NET.triangles.map((_, k, all) => all[which(Math.floor(k / 3)) ? k - (k % 3) + (2 - (k % 3)) : k]!),
});

/** The landmarks of the document as a change of the file moves them. */
const marksMoved = (change: (p: readonly number[]) => number[]) => ({
  landmarks: Object.fromEntries(Object.entries(scanDocument().landmarks).map(([name, p]) => [name, change(p!)])),
});

describe('single values', () => {
  it('8 binary STL of small numbers, no byte above 127, zero normals, "solid facet" in its header: read as binary', () => {
    const bytes = writeStl({
      positions: Float64Array.of(0, 0, 0, 2, 0, 0, 0, 3, 2),
      triangles: Uint32Array.of(0, 1, 2),
    });
    bytes.fill(0, 84, 96);
    bytes.set(latin1('solid facet normal vertex'), 0);
    expect(bytes.subarray(84).every((byte) => byte < 128)).toBe(true);
    expect([...readMesh(bytes, 'a.stl').mesh.positions]).toEqual([0, 0, 0, 2, 0, 0, 0, 3, 2]);
  });

  it('9 denormal coordinates are read as they are, and a horse with one among them is the same horse', () => {
    const { mesh } = readMesh(latin1('v 1e-320 0 -1e-310\nv 4 0 0\nv 0 5 1\nf 1 2 3\n'), 'a.obj');
    expect([...mesh.positions.slice(0, 3)]).toEqual([1e-320, 0, -1e-310]);
    const tiny = mapPositions(NET, (x, y, z) => [x, y === 0 ? 1e-320 : y, z]);
    expect(awayFromClean(throughFile(tiny))).toBe(0);
  });

  it('10 a scan 10 km from its origin: the same in double precision, half a millimetre off in single and said so', () => {
    const far = mapPositions(NET, (x, y, z) => [x + 1e7, y - 1e7, z + 1e7]);
    const marks = marksMoved(([x, y, z]) => [x! + 1e7, y! - 1e7, z! + 1e7]);
    expect(awayFromClean(throughFile(far, marks))).toBeLessThan(1e-6);
    const raw = readMesh(writePly(far), 'a.ply');
    expect(raw.warnings.join(' ')).toMatch(/far from its origin .* resolves only 1\.2/);
    const away = awayFromClean(buildBack(scanDocument(marks), { mesh: raw.mesh }));
    expect(away).toBeGreaterThan(0.1);
    expect(away).toBeLessThan(1.2);
  });

  it.each([0.5, 20, 50, 20_000])('11 a scan said to be in mm whose longest side is %d: wrong-unit', (side) => {
    const scaled = mapPositions(NET, (x, y, z) => [x, y, z].map((v) => (v * side) / 800));
    expect(refusal(() => throughFile(scaled)).code).toBe('wrong-unit');
  });

  it('11 the unit proposed by the longest side: 0.8 is metres, 80 centimetres, 31.5 inches, 800 millimetres', () => {
    const proposed = [0.8, 80, 31.5, 800].map((side) => proposeUnit([side, 0.6 * side, 0.25 * side]).value);
    expect(proposed).toEqual(['m', 'cm', 'in', 'mm']);
  });
});

describe('degenerate and repeated', () => {
  it('12 all points identical, or on one line: degenerate, as a mesh and as a cloud', () => {
    for (const change of [() => [1, 2, 3], (x: number) => [x, 0, 0]]) {
      const mesh = mapPositions(NET, change);
      expect(refusal(() => throughFile(mesh)).code).toBe('degenerate');
      expect(refusal(() => meshFromPoints(mesh.positions, { up: [0, 0, 1] })).code).toBe('degenerate');
    }
  });

  it('12 all points in one plane: a flat back when it lies level, refused when it stands upright', () => {
    const flat = throughFile(mapPositions(NET, (x, y) => [x, y, 0]));
    expect([flat.heightMm(100, 100), flat.heightMm(400, -50)]).toEqual([0, 0]);
    expect(flat.warnings.join(' ')).toMatch(/withersTop lies 154 mm from/);
    expect(refusal(() => throughFile(mapPositions(NET, (x, _, z) => [x, 0, z]))).code).toBe('out-of-range');
  });

  it('13 triangles without area and needles of aspect 1e11 leave the surface alone and are counted', () => {
    const extra = [0, 0, 300, 1, 0, 300, 2, 0, 300, 0, 0, 400, 500, 1e-9, 400, 250, 0, 400];
    const back = throughFile(withMore(extra, [0, 1, 2, 3, 4, 5, 0, 0, 1]));
    expect(awayFromClean(back)).toBe(0);
    expect(back.warnings).toContain('3 triangles without area were left out.');
  });

  it('14 every vertex again within 1e-7 mm and every face twice more: the same surface, counted', () => {
    const { positions, triangles } = NET;
    const back = throughFile({
      positions: Float64Array.of(...positions, ...positions.map((v) => v + 1e-7)),
      triangles: Uint32Array.of(...triangles, ...triangles.map((v) => v + first), ...triangles),
    });
    expect(awayFromClean(back)).toBeLessThan(1e-6);
    expect(back.warnings).toContain(`${(2 * triangles.length) / 3} duplicate triangles were left out.`);
  });
});

describe('winding and joins', () => {
  it.each([
    ['all', () => true, true],
    ['one', (i: number) => i === 777, false],
    ['each third', (i: number) => i % 3 === 0, false],
  ] as const)('15 %s of the faces wound the other way: the same surface, up where it was up', (_, which, said) => {
    const back = throughFile(turned(which));
    expect(awayFromClean(back)).toBeLessThan(1e-9);
    expect(
      back.warnings.includes(
        'The triangles faced into the horse and were turned over. A scan saved mirrored faces inward too: check that left is left.',
      ),
    ).toBe(said);
    expect(facesUp(back.drawingMesh())).toBe(1);
  });

  it('16 an edge of three faces and two faces joined at one vertex only: the top surface is the same', () => {
    const vertex = NET.triangles[3000]!;
    const [x, y, z] = NET.positions.subarray(3 * vertex, 3 * vertex + 3);
    const fin = withMore([x!, y!, z! - 60], []);
    const withFin = [...fin.triangles, vertex, NET.triangles[3001]!, first];
    expect(awayFromClean(throughFile({ ...fin, triangles: Uint32Array.from(withFin) }))).toBe(0);
    const tie = withMore([x! + 3, y!, z! - 40, x! - 3, y! + 2, z! - 40], []);
    const withTie = [...tie.triangles, vertex, first, first + 1];
    expect(awayFromClean(throughFile({ ...tie, triangles: Uint32Array.from(withTie) }))).toBe(0);
  });

  it('17 pinholes: no data in them, the same surface beside them', () => {
    const every = 500;
    const back = throughFile({
      positions: NET.positions,
      triangles: NET.triangles.filter((_, k) => Math.floor(k / 3) % every !== 0),
    });
    const corners = [0, 1, 2].map((j) => 3 * NET.triangles[3 * every + j]!);
    const [x, y] = [0, 1].map((axis) => corners.reduce((sum, at) => sum + NET.positions[at + axis]! / 3, 0));
    expect(back.heightMm(x!, y!)).toBeNaN();
    expect(awayFromClean(back, (u, v) => Number.isNaN(back.heightMm(u, v)))).toBe(0);
  });
});

/** Two triangles over four corners. */
const SHEET = [0, 1, 2, 0, 2, 3];

describe('what else the scanner saw', () => {
  it.each([
    ['a floor under it', [-350, -600, -1200, 850, -600, -1200, 850, 600, -1200, -350, 600, -1200]],
    ['a wall beside it', [-100, 600, -300, 700, 600, -300, 700, 600, 500, -100, 600, 500]],
    ['a scrap in the air over it', [230, -20, 300, 270, -20, 300, 270, 20, 300, 230, 20, 300]],
    ['a sheet through it', [100, -100, -50, 300, -100, 10, 300, 100, -50, 100, 100, 10]],
  ])('18, 19 %s: the back is the same', (_, corners) => {
    expect(awayFromClean(throughFile(withMore(corners, SHEET)))).toBe(0);
  });

  it('19 a sheet folded over onto itself: the upper of the two layers', () => {
    const lowered = 15;
    const back = throughFile(mapPositions(NET, (x, y, z) => (x > 600 ? [1200 - x, y, z - lowered] : [x, y, z])));
    const clean = throughFile(NET);
    let folded = 0;
    for (let x = 505; x < 595; x += 11) {
      for (let y = -200; y <= 200; y += 37) {
        const layers = [clean.heightMm(x, y), clean.heightMm(1200 - x, y) - lowered];
        expect(back.heightMm(x, y)).toBeCloseTo(Math.max(...layers), 6);
        if (layers[1]! > layers[0]!) folded++;
      }
    }
    expect(folded).toBeGreaterThan(10);
  });

  it('20 a Moebius band as large as a horse is refused for what it is not, not followed round', () => {
    const positions: number[] = [];
    const triangles: number[] = [];
    for (let i = 0; i < 60; i++) {
      const u = (2 * Math.PI * i) / 60;
      for (const side of [-80, 80]) {
        const r = 300 + side * Math.cos(u / 2);
        positions.push(250 + r * Math.cos(u), r * Math.sin(u), side * Math.sin(u / 2));
      }
      const [c, d] = i === 59 ? [1, 0] : [2 * i + 2, 2 * i + 3];
      triangles.push(2 * i, c, 2 * i + 1, 2 * i + 1, c, d);
    }
    const band = { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
    const error = refusal(() => throughFile(band));
    expect([error.code, error.details.field]).toEqual(['inconsistent', 'axes.up']);
  });
});

describe('the wrong way round', () => {
  const mirrored = mapPositions(NET, (x, y, z) => [x, -y, z]);

  it('24 a mirrored horse with marks on its left and right: inconsistent', () => {
    const error = refusal(() =>
      throughFile(
        mirrored,
        marksMoved(([x, y, z]) => [x!, -y!, z!]),
      ),
    );
    expect([error.code, error.details.field]).toEqual(['inconsistent', 'landmarks.bladeEdgeLeft']);
    const axes = { tail: '+x', right: '-y', up: '+z' };
    expect(refusal(() => throughFile(mirrored, { axes })).details.field).toBe('axes.right');
  });

  it('24 a mirrored horse with marks of another is at least seen to be inside out, and is its mirror image', () => {
    const back = throughFile(mirrored);
    expect(back.warnings).toContain(
      'The triangles faced into the horse and were turned over. A scan saved mirrored faces inward too: check that left is left.',
    );
    expect(back.heightMm(200, 90)).toBeCloseTo(throughFile(NET).heightMm(200, -90), 9);
  });

  it('25 a back that faces away from the seat, its landmarks with it or not: refused by axes or marks', () => {
    const below = mapPositions(NET, (x, y, z) => [x, y, -z]);
    const marks = marksMoved(([x, y, z]) => [x!, y!, -z!]);
    for (const changes of [{}, marks]) {
      const error = refusal(() => throughFile(below, changes));
      expect([error.code, error.details.field]).toEqual(['inconsistent', 'axes.up']);
    }
    const over = mapPositions(NET, (x, y, z) => [x, -y, -z]);
    const overMarks = marksMoved(([x, y, z]) => [x!, -y!, -z!]);
    expect(refusal(() => throughFile(over, overMarks)).details.field).toBe('landmarks.bladeEdgeLeft');
    const axes = { tail: '+x', right: '-y', up: '-z' };
    expect(awayFromClean(throughFile(over, { ...overMarks, axes }))).toBeLessThan(1e-9);
  });

  it('25 a million triangles are read into less than five times their file', () => {
    const count = 1_000_000;
    const bytes = new Uint8Array(84 + 50 * count);
    const view = new DataView(bytes.buffer);
    view.setUint32(80, count, true);
    for (let i = 0, at = 96; i < count; i++, at += 50) {
      const [x, y] = [i % 1000, Math.floor(i / 1000)];
      [x, y, 0, x + 1, y, 0, x, y + 1, 1].forEach((value, k) => {
        view.setFloat32(at + 4 * k, value, true);
      });
    }
    const before = process.memoryUsage().arrayBuffers;
    const { mesh } = readStl(bytes, 'a.stl');
    expect(mesh.triangles.length).toBe(3 * count);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(5 * bytes.length);
  });
});

/** Share of the area that faces up. */
function facesUp({ positions: p, triangles: t }: TriangleMesh): number {
  let up = 0;
  for (let k = 0; k < t.length; k += 3) {
    const [a, b, c] = [3 * t[k]!, 3 * t[k + 1]!, 3 * t[k + 2]!];
    up += (p[b]! - p[a]!) * (p[c + 1]! - p[a + 1]!) > (p[b + 1]! - p[a + 1]!) * (p[c]! - p[a]!) ? 1 : 0;
  }
  return up / (t.length / 3);
}
