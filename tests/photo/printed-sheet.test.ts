import { inflateSync } from 'node:zlib';
import {
  curveToPaper,
  findSheetMarks,
  type GreyImage,
  greyFromRgba,
  SHEET_PAPERS,
  sheetTile,
  tracingSheet,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { renderPng } from '../../packages/cli/src/output/render-png.ts';

/** Red, green, blue, alpha of a PNG of 8 bits without interlace (PNG specification, section 9: filters, from memory). */
function decodePng(bytes: Uint8Array): { width: number; height: number; rgba: Uint8Array } {
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const [width, height] = [view.getUint32(16), view.getUint32(20)];
  expect([bytes[24], bytes[25], bytes[28]]).toEqual([8, 6, 0]);
  const parts: Uint8Array[] = [];
  for (let at = 8; at < bytes.length; at += 12 + view.getUint32(at)) {
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (name === 'IDAT') parts.push(bytes.subarray(at + 8, at + 8 + view.getUint32(at)));
  }
  const raw = inflateSync(Buffer.concat(parts));
  const stride = 4 * width;
  const rgba = new Uint8Array(stride * height);
  for (let y = 0; y < height; y++) {
    const filter = raw[y * (stride + 1)]!;
    for (let i = 0; i < stride; i++) {
      const left = i < 4 ? 0 : rgba[y * stride + i - 4]!;
      const up = y === 0 ? 0 : rgba[(y - 1) * stride + i]!;
      const corner = i < 4 || y === 0 ? 0 : rgba[(y - 1) * stride + i - 4]!;
      const guess = left + up - corner;
      const [a, b, c] = [Math.abs(guess - left), Math.abs(guess - up), Math.abs(guess - corner)];
      const paeth = a <= b && a <= c ? left : b <= c ? up : corner;
      const add = [0, left, up, (left + up) >> 1, paeth][filter]!;
      rgba[y * stride + i] = raw[y * (stride + 1) + 1 + i]! + add;
    }
  }
  return { width, height, rgba };
}

/** The page seen from the side: a projective view of it, its far edge shorter, on grey ground. */
function sideways({ width, height, grey }: GreyImage, to: number): GreyImage {
  const size = [to, Math.round((to * height) / width)] as const;
  const out = new Uint8Array(size[0] * size[1]).fill(130);
  for (let y = 0; y < size[1]; y++) {
    for (let x = 0; x < size[0]; x++) {
      // From a place in the view to one on the page: upright lines lean, the upper part is farther away.
      const [u, v] = [x / size[0], y / size[1]];
      const w = (0.75 + 0.3 * v) / 1.09;
      const [s, t] = [(u - 0.5 + 0.03 * (v - 0.5)) / w + 0.5, (v - 0.5) / w + 0.5];
      const [i, j] = [Math.floor(s * width), Math.floor(t * height)];
      if (i >= 0 && j >= 0 && i < width && j < height) out[y * size[0] + x] = grey[j * width + i]!;
    }
  }
  return { width: size[0], height: size[1], grey: out };
}

describe('the page as it is printed is the sheet that photos are read by', () => {
  it.each(SHEET_PAPERS)(
    '%s: with its words and lines it is found and identified, and lies where the numbers say',
    async (paper) => {
      for (const tiles of [1, 3]) {
        const pages = tracingSheet({ paper, tiles });
        const k = tiles === 1 ? 0 : 1;
        const { width, height, rgba } = decodePng(await renderPng(pages[k]!));
        const { light } = greyFromRgba(rgba, width, height);
        const tile = sheetTile(paper, tiles, k + 1);
        const search = findSheetMarks(light);
        expect(search.missing).toEqual([]);
        expect(search.sheet).toMatchObject({ paper, tiles, tilesSeen: [k + 1] });
        const { plane } = search.sheet!;
        // Seen straight on, the way from pixels to mm is the scale of the page.
        const perMm = width / tile.widthMm;
        for (const [x, y] of [
          [0, 0],
          [width, 0],
          [width, height],
          [width / 2, height / 2],
        ] as const) {
          const [read] = curveToPaper([[x, y]], plane);
          expect(read![0]).toBeCloseTo(tile.leftTopMm[0] + x / perMm, 1);
          expect(read![1]).toBeCloseTo(tile.leftTopMm[1] - y / perMm, 1);
        }
        expect(plane.straightnessMm!).toBeLessThan(0.05);
        expect(Math.max(...plane.residualsMm)).toBeLessThan(0.05);
        const tilted = findSheetMarks(sideways(light, 1100));
        expect(tilted.missing).toEqual([]);
        expect(tilted.sheet!.discs.every(({ offMm }) => offMm !== null && offMm < 0.3)).toBe(true);
      }
    },
  );
});
