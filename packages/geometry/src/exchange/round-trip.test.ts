import { describe, expect, it } from 'vitest';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { readMesh, writeObj, writePly, writeStl } from './index.ts';

/** Two generic triangles sharing an edge, numbered by first use, as an STL reader numbers them. */
const MESH: TriangleMesh = {
  positions: Float64Array.of(0.1, -2.3, 41.7, 103.33, 7.01, -0.004, 55.5, 88.123456, 12.25, -61.0625, 90.9, 3.3e-5),
  triangles: Uint32Array.of(0, 1, 2, 0, 2, 3),
};

const WRITERS = {
  'a.ply': (mesh: TriangleMesh) => writePly(mesh, { comment: 'Heron, left bar' }),
  'b.ply': (mesh: TriangleMesh) => writePly(mesh, { ascii: true, comment: 'Heron, left bar' }),
  'c.stl': (mesh: TriangleMesh) => writeStl(mesh, { comment: 'Heron, left bar' }),
  'd.obj': (mesh: TriangleMesh) => writeObj(mesh, { comment: 'Heron, left bar' }),
};

describe('what one of our writers writes, our readers read', () => {
  for (const [name, write] of Object.entries(WRITERS)) {
    it(`${name}: the same faces, coordinates to single precision, no warning`, () => {
      const { mesh, warnings, format } = readMesh(write(MESH), name);
      expect(format).toBe(name.slice(2));
      expect(warnings).toEqual([]);
      expect([...mesh.triangles]).toEqual([...MESH.triangles]);
      expect([...Float32Array.from(mesh.positions)]).toEqual([...Float32Array.from(MESH.positions)]);
    });

    it(`${name}: the same bytes every time, and the unit and the comment in them`, () => {
      expect(write(MESH)).toEqual(write(MESH));
      const text = String.fromCharCode(...write(MESH));
      expect(text).toContain('millimetres');
      expect(text).toContain('Heron, left bar');
    });

    it(`${name}: refuses to write a coordinate that is not finite`, () => {
      const broken = { ...MESH, positions: MESH.positions.map((value, i) => (i === 4 ? Number.NaN : value)) };
      expect(() => write(broken)).toThrow(expect.objectContaining({ code: 'not-a-number' }));
    });
  }

  it('STL: 84 + 50 n bytes, a header that is not text, unit normals by the right-hand rule', () => {
    const bytes = writeStl({
      positions: Float64Array.of(0, 0, 0, 2, 0, 0, 0, 3, 0),
      triangles: Uint32Array.of(0, 1, 2),
    });
    expect(bytes.length).toBe(84 + 50);
    expect(String.fromCharCode(...bytes.subarray(0, 5)).toLowerCase()).not.toBe('solid');
    const view = new DataView(bytes.buffer);
    expect([84, 88, 92].map((at) => view.getFloat32(at, true))).toEqual([0, 0, 1]);
  });

  it('a comment with a line break cannot open a new line in the header', () => {
    const bytes = writePly(MESH, { comment: 'one\nelement vertex 99' });
    expect(readMesh(bytes, 'a.ply').mesh.positions.length).toBe(12);
  });
});
