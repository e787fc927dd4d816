import { MeshoptEncoder } from 'meshoptimizer/encoder';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { demoMesh } from '../../packages/geometry/src/back/propose-scan.fixture.ts';
import { createDracoPacker, dracoGlb, meshoptGlb } from '../support/packed-glb.ts';
import { type Bench, figureOf, plainText, readingDone, startBench } from './bench.fixture.ts';

/** Scans that need more than reading: unpacked in the page's own worker, or made a surface first. */
let bench: Bench;
beforeAll(async () => {
  bench = await startBench();
});
afterAll(() => bench?.close());

const SOON = { timeout: 60_000 };
const { mesh } = demoMesh('tuesday', 8, 0);
/** Metres and y up, as the format has it: x to the tail, z to the horse's right, y up. */
const metres = Float64Array.from(mesh.positions, (_, k) => {
  const v = k - (k % 3);
  return [mesh.positions[v]!, mesh.positions[v + 2]!, -mesh.positions[v + 1]!][k % 3]! / 1000;
});

const bytesOf = (list: Float32Array | Uint32Array): Uint8Array =>
  new Uint8Array(list.buffer, list.byteOffset, list.byteLength);

async function dracoScan(): Promise<Uint8Array> {
  const pack = await createDracoPacker();
  return dracoGlb(pack(Float32Array.from(metres), mesh.triangles, 16), metres.length / 3, mesh.triangles.length);
}

async function meshoptScan(): Promise<Uint8Array> {
  await MeshoptEncoder.ready;
  const count = metres.length / 3;
  const corners = mesh.triangles.length;
  return meshoptGlb(
    [
      {
        bytes: MeshoptEncoder.encodeVertexBuffer(bytesOf(Float32Array.from(metres)), count, 12),
        count,
        stride: 12,
        mode: 'ATTRIBUTES',
      },
      {
        bytes: MeshoptEncoder.encodeIndexBuffer(bytesOf(mesh.triangles), corners, 4),
        count: corners,
        stride: 4,
        mode: 'TRIANGLES',
      },
    ],
    'EXT_meshopt_compression',
    [
      { bufferView: 0, componentType: 5126, count, type: 'VEC3' },
      { bufferView: 1, componentType: 5125, count: corners, type: 'SCALAR' },
    ],
  );
}

const cloud = async (): Promise<Uint8Array> => {
  const lines = Array.from({ length: metres.length / 3 }, (_, v) => metres.subarray(3 * v, 3 * v + 3).join(' '));
  return new TextEncoder().encode(lines.join('\n'));
};

describe('packed scans and clouds become a back on the desk', () => {
  test.each([
    ['scan.glb', 'Draco', dracoScan, true],
    ['scan.glb', 'meshopt', meshoptScan, false],
    ['scan.xyz', 'points', cloud, true],
  ] as const)('%s, %s: dropped, all as proposed, the tree set on it', async (name, _, make, drawn) => {
    const { page, context, complaints } = await bench.open('fresh&calm&pattern=post&back=tuesday', {
      drawn,
      coarse: true,
    });
    try {
      const before = await figureOf(page, 'Contact area');
      const buffer = Buffer.from(await make());
      await page.getByLabel('Files to open').setInputFiles({ name, mimeType: 'application/octet-stream', buffer });
      const desk = page.getByRole('main', { name: /^A scan becomes a back/ });
      await desk.getByRole('button', { name: 'All as proposed' }).click(SOON);
      const set = desk.getByRole('button', { name: 'Set the tree on this back' });
      await expect.poll(() => set.isEnabled(), SOON).toBe(true);
      await set.click();
      await readingDone(page);
      const horse = page.getByRole('combobox', { name: 'Horse', exact: true }).locator('option').first();
      expect(plainText(await horse.textContent())).toBe('Scan');
      const areas = [before, await figureOf(page, 'Contact area')].map((said) =>
        Number(/^([\d ]+)/.exec(said)?.[1]?.replaceAll(' ', '')),
      );
      expect(Math.abs(areas[1]! / areas[0]! - 1)).toBeLessThan(0.15);
      expect(complaints).toEqual([]);
    } finally {
      await context.close();
    }
  });
});
