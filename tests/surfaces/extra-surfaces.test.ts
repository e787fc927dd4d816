import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readMesh } from '../../packages/geometry/src/exchange/index.ts';
import { cleanMesh } from '../../packages/geometry/src/surface/index.ts';

const folder = process.env.BARWRIGHT_EXTRA_SURFACES;
const names = folder === undefined ? [] : readdirSync(folder).filter((name) => /\.(ply|stl|obj)$/i.test(name));

describe('surfaces from the folder that BARWRIGHT_EXTRA_SURFACES names', () => {
  it('are there, or it is said that they are not', () => {
    if (folder === undefined) console.warn('BARWRIGHT_EXTRA_SURFACES is not set: no outside scans were read.');
    else expect(names.length).toBeGreaterThan(0);
    expect(folder === undefined).toBe(names.length === 0);
  });

  for (const name of names) {
    it(`${name} reads and cleans to a surface that stays the same when cleaned again`, () => {
      const raw = readMesh(readFileSync(join(folder ?? '', name)), name);
      const { mesh } = cleanMesh(raw.mesh, { up: [0, 0, 1] });
      const again = cleanMesh(mesh, { up: [0, 0, 1] });
      expect(again.mesh).toEqual(mesh);
      expect(again.report).toMatchObject({ weldedVertices: 0, flippedFaces: 0, turnedPatches: 0, islandsDropped: 0 });
    });
  }
});
