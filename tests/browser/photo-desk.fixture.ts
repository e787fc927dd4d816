import type { Page } from 'playwright-core';
import { PNG } from 'pngjs';
import { surfaceOf } from '../../packages/geometry/src/back/tracings.fixture.ts';
import { seededRandom } from '../../packages/geometry/src/numeric/index.ts';
import {
  type Camera,
  cameraOver,
  type PaperOptions,
  paperPicture,
  photograph,
  seenAt,
} from '../../packages/geometry/src/photo/synthetic-photo.fixture.ts';
import { fitBox, toScreen } from '../../packages/viewer/src/desk/photo/view-box.ts';

export type Point = readonly [number, number];

/** A section of Dumpling as drawn on taped sheets: mm to the right and up from where midline and level line cross. */
export interface DrawnSection {
  readonly stationMm: number;
  /** Height of the level line in the back's own heights. */
  readonly levelMm: number;
  readonly points: readonly Point[];
}

const dumpling = surfaceOf('dumpling');

/** Height of the back itself, mm. */
export const heightOf = (stationMm: number, y: number): number => dumpling.row(stationMm)(y);

/** How far below its level line a section still fits on the sheet, mm. */
const ROOM_MM = 165;

export function drawnSection(stationMm: number): DrawnSection {
  const levelMm = Math.round(heightOf(stationMm, 0) + 12);
  const points: Point[] = [];
  for (let y = -250; y <= 250; y += 2) {
    const up = heightOf(stationMm, y) - levelMm;
    if (up > -ROOM_MM) points.push([y, up]);
  }
  return { stationMm, levelMm, points };
}

export interface Shot {
  readonly png: Buffer;
  readonly camera: Camera;
}

export interface ShotAs {
  readonly seed: number;
  readonly tiltDeg?: number;
  readonly rollDeg?: number;
  readonly covers?: PaperOptions['covers'];
  readonly width?: number;
  readonly height?: number;
  readonly tiles?: number;
}

/** A photo of a section traced on our sheets, taken at an angle in uneven light. */
export function shotOf(curve: readonly Point[], as: ShotAs): Shot {
  const { seed, tiltDeg = 14, rollDeg = 4, covers = [], width = 1900, height = 1150, tiles = 3 } = as;
  const sheet = { paper: 'a4', tiles } as const;
  const picture = paperPicture({ ...sheet, curves: [curve], covers, pixelsPerMm: 4 });
  const camera = cameraOver({ ...sheet, width, height, tiltDeg, axisDeg: 20 + 31 * seed, rollDeg, focal: 1.1 });
  const { grey } = photograph(picture, camera, { random: seededRandom(seed), noise: 3, blurPx: 0.6, shade: 0.3 });
  return { png: pngOf(grey, width, height), camera };
}

export function pngOf(grey: Uint8Array, width: number, height: number): Buffer {
  const png = new PNG({ width, height, colorType: 2 });
  for (let i = 0; i < grey.length; i++) {
    png.data[4 * i] = grey[i]!;
    png.data[4 * i + 1] = grey[i]!;
    png.data[4 * i + 2] = Math.max(0, grey[i]! - 6);
    png.data[4 * i + 3] = 255;
  }
  return PNG.sync.write(png, { colorType: 2, deflateLevel: 3 });
}

/** Where a pixel of the photo lies on the page while the whole photo is shown. */
export async function onPage(page: Page, camera: Pick<Camera, 'width' | 'height'>, at: Point): Promise<Point> {
  const box = (await page.locator('.photo-over').boundingBox())!;
  const [x, y] = toScreen(fitBox(camera, box), box, at);
  return [box.x + x, box.y + y];
}

/** Clicks places of the paper in the photo. */
export async function clickAlong(page: Page, camera: Camera, places: readonly Point[]): Promise<void> {
  for (const place of places) {
    const [x, y] = await onPage(page, camera, seenAt(camera, place));
    await page.mouse.click(x, y);
  }
}
