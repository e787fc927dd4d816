import {
  isBlackCell,
  MARK_CELLS,
  SHEET_LAYOUT,
  SHEET_SIZES_MM,
  type SheetPaper,
  type SheetPoint,
  sheetsWidthMm,
  sheetTile,
} from '../drawing/index.ts';
import type { Random } from '../numeric/index.ts';
import type { GreyImage, PixelPoint } from './grey-image.ts';
import { adjugate3, type Matrix3, through } from './matrix3.ts';

/** Taped sheets as a picture in true size, 0 black to 255 white. */
export interface PaperPicture extends GreyImage {
  readonly pixelsPerMm: number;
  readonly leftTopMm: SheetPoint;
}

export interface PaperOptions {
  readonly paper: SheetPaper;
  readonly tiles: number;
  /** Pen lines. */
  readonly curves?: readonly (readonly SheetPoint[])[];
  readonly penMm?: number;
  readonly penGrey?: number;
  /** White patches over it: centre and radius. */
  readonly covers?: readonly { readonly at: SheetPoint; readonly radiusMm: number }[];
  readonly pixelsPerMm?: number;
}

/** Draws the sheets by their own numbers, not by the printed page. */
export function paperPicture(options: PaperOptions): PaperPicture {
  const { paper, tiles, pixelsPerMm = 5 } = options;
  const widthMm = sheetsWidthMm(paper, tiles);
  const { heightMm } = SHEET_SIZES_MM[paper];
  const [width, height] = [Math.round(widthMm * pixelsPerMm), Math.round(heightMm * pixelsPerMm)];
  const picture: PaperPicture = {
    ...{ width, height, pixelsPerMm },
    grey: new Uint8Array(width * height).fill(245),
    leftTopMm: sheetTile(paper, tiles, 1).leftTopMm,
  };
  stroke(
    picture,
    [
      [-widthMm / 2 + 14, 0],
      [widthMm / 2 - 14, 0],
    ],
    0.35,
    90,
  );
  stroke(
    picture,
    [
      [0, 5],
      [0, -160],
    ],
    0.25,
    120,
  );
  for (let k = 1; k <= tiles; k++) {
    const tile = sheetTile(paper, tiles, k);
    for (const mark of tile.marks) drawMark(picture, mark.code, mark.cornersMm[0]);
    for (const disc of tile.discs) stamp(picture, disc.centreMm, disc.radiusMm, 0);
  }
  for (const curve of options.curves ?? []) stroke(picture, curve, options.penMm ?? 0.8, options.penGrey ?? 50);
  for (const cover of options.covers ?? []) stamp(picture, cover.at, cover.radiusMm, 245);
  return picture;
}

const toPixels = ({ leftTopMm, pixelsPerMm }: PaperPicture, [right, up]: SheetPoint): PixelPoint => [
  (right - leftTopMm[0]) * pixelsPerMm,
  (leftTopMm[1] - up) * pixelsPerMm,
];

/** Share of a pixel that lies in a shape, by 4 x 4 looks. */
function paint(
  picture: PaperPicture,
  box: readonly [number, number, number, number],
  value: number,
  isIn: (x: number, y: number) => boolean,
): void {
  const { width, height, grey } = picture;
  for (let y = Math.max(0, Math.floor(box[1])); y < Math.min(height, box[3]); y++) {
    for (let x = Math.max(0, Math.floor(box[0])); x < Math.min(width, box[2]); x++) {
      let count = 0;
      for (let k = 0; k < 16; k++) if (isIn(x + ((k % 4) + 0.5) / 4, y + (Math.floor(k / 4) + 0.5) / 4)) count++;
      if (count > 0) grey[y * width + x] = Math.round(grey[y * width + x]! * (1 - count / 16) + (value * count) / 16);
    }
  }
}

function drawMark(picture: PaperPicture, code: number, leftTop: SheetPoint): void {
  const [x0, y0] = toPixels(picture, leftTop);
  const cell = (SHEET_LAYOUT.markMm / MARK_CELLS) * picture.pixelsPerMm;
  const side = cell * MARK_CELLS;
  paint(picture, [x0 - 1, y0 - 1, x0 + side + 1, y0 + side + 1], 0, (x, y) => {
    const [row, column] = [Math.floor((y - y0) / cell), Math.floor((x - x0) / cell)];
    return row >= 0 && column >= 0 && row < MARK_CELLS && column < MARK_CELLS && isBlackCell(code, row, column);
  });
}

function stamp(picture: PaperPicture, at: SheetPoint, radiusMm: number, value: number): void {
  const [cx, cy] = toPixels(picture, at);
  const r = radiusMm * picture.pixelsPerMm;
  paint(
    picture,
    [cx - r - 1, cy - r - 1, cx + r + 1, cy + r + 1],
    value,
    (x, y) => (x - cx) ** 2 + (y - cy) ** 2 < r * r,
  );
}

function stroke(picture: PaperPicture, line: readonly SheetPoint[], widthMm: number, value: number): void {
  const r = (widthMm / 2) * picture.pixelsPerMm;
  const points = line.map((p) => toPixels(picture, p));
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const long = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
    const box = [
      Math.min(a[0], b[0]) - r - 1,
      Math.min(a[1], b[1]) - r - 1,
      Math.max(a[0], b[0]) + r + 1,
      Math.max(a[1], b[1]) + r + 1,
    ] as const;
    paint(picture, box, value, (x, y) => {
      const t = Math.max(0, Math.min(1, ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / long));
      return (x - a[0] - t * (b[0] - a[0])) ** 2 + (y - a[1] - t * (b[1] - a[1])) ** 2 < r * r;
    });
  }
}

export interface Camera {
  readonly width: number;
  readonly height: number;
  /** Row-major 3 x 3: paper mm to pixels of a camera without lens errors. */
  readonly paperToImage: Matrix3;
  /** Radial lens error: undistorted radius = r (1 + k r^2), r in half diagonals. */
  readonly radial: number;
  readonly tiltDeg: number;
}

export interface CameraOptions {
  readonly width: number;
  readonly height: number;
  readonly tiltDeg: number;
  /** Direction in the paper about which it is tilted, and turn of the camera about its own axis. */
  readonly axisDeg: number;
  readonly rollDeg: number;
  /** Focal length in picture widths: 0.7 wide, 1.5 a little tele. */
  readonly focal: number;
  readonly paper: SheetPaper;
  readonly tiles: number;
  readonly radial?: number;
  /** Share of the picture that the paper is to fill. */
  readonly fill?: number;
}

/** A pinhole camera looking at the middle of the taped sheets, as near as they still fit in. */
export function cameraOver(options: CameraOptions): Camera {
  const { width, height, tiltDeg, axisDeg, rollDeg, focal, paper, tiles, radial = 0, fill = 0.94 } = options;
  const { leftTopMm, heightMm } = sheetTile(paper, tiles, 1);
  const widthMm = sheetsWidthMm(paper, tiles);
  const centre: SheetPoint = [0, leftTopMm[1] - heightMm / 2];
  const rad = Math.PI / 180;
  const [ca, sa] = [Math.cos(axisDeg * rad), Math.sin(axisDeg * rad)];
  const [ct, st] = [Math.cos(tiltDeg * rad), Math.sin(tiltDeg * rad)];
  const [cr, sr] = [Math.cos(rollDeg * rad), Math.sin(rollDeg * rad)];
  const f = focal * width;
  const build = (distance: number): Matrix3 => {
    // Turned about (ca, sa) in the paper by the tilt, then about the camera's axis; y down in the picture.
    const [e1, e2] = [
      [ca * ca + sa * sa * ct, ca * sa * (1 - ct), -sa * st],
      [ca * sa * (1 - ct), sa * sa + ca * ca * ct, ca * st],
    ];
    const column = (e: readonly number[]): number[] => {
      const [x, y] = [cr * e[0]! + sr * e[1]!, -(cr * e[1]! - sr * e[0]!)];
      return [f * x + (width / 2) * e[2]!, f * y + (height / 2) * e[2]!, e[2]!];
    };
    const [a, b] = [column(e1!), column(e2!)];
    const c = [(width / 2) * distance, (height / 2) * distance, distance];
    return [0, 1, 2].flatMap((i) => [a[i]!, b[i]!, c[i]! - centre[0] * a[i]! - centre[1] * b[i]!]);
  };
  const corners: SheetPoint[] = [
    [-widthMm / 2, leftTopMm[1]],
    [widthMm / 2, leftTopMm[1]],
    [widthMm / 2, leftTopMm[1] - heightMm],
    [-widthMm / 2, leftTopMm[1] - heightMm],
  ];
  let distance = 300;
  for (; distance < 20_000; distance *= 1.01) {
    const h = build(distance);
    const isSeen = corners.every((p) => {
      const [x, y] = through(h, p);
      const w = h[6]! * p[0] + h[7]! * p[1] + h[8]!;
      return w > 0 && Math.abs(x - width / 2) < (fill * width) / 2 && Math.abs(y - height / 2) < (fill * height) / 2;
    });
    if (isSeen) break;
  }
  return { width, height, paperToImage: build(distance), radial, tiltDeg };
}

/** Where a place on the paper is seen. */
export function seenAt(camera: Camera, p: SheetPoint): PixelPoint {
  const [x, y] = through(camera.paperToImage, p);
  const half = Math.hypot(camera.width, camera.height) / 2;
  const [dx, dy] = [(x - camera.width / 2) / half, (y - camera.height / 2) / half];
  const ideal = Math.hypot(dx, dy);
  let r = ideal;
  for (let i = 0; i < 20; i++) r = ideal / (1 + camera.radial * r * r);
  const s = ideal === 0 ? 1 : r / ideal;
  return [camera.width / 2 + dx * s * half, camera.height / 2 + dy * s * half];
}

export interface ShotOptions {
  readonly random: Random;
  /** Standard deviation of the noise, grey values. */
  readonly noise: number;
  readonly blurPx: number;
  /** How much darker the darkest corner is: 0 none, 0.5 half. */
  readonly shade: number;
}

/** A photo of the paper on a table of planks: 2 x 2 looks a pixel, blur, uneven light, noise. */
export function photograph(picture: PaperPicture, camera: Camera, shot: ShotOptions): GreyImage {
  const { width, height } = camera;
  const look = lookerAt(picture, camera);
  const half = Math.hypot(width, height) / 2;
  const raw = new Float32Array(width * height);
  const angle = 2 * Math.PI * shot.random();
  const [ca, sa] = [Math.cos(angle) / half, Math.sin(angle) / half];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const sum =
        look(x + 0.25, y + 0.25) + look(x + 0.75, y + 0.25) + look(x + 0.25, y + 0.75) + look(x + 0.75, y + 0.75);
      const across = (x - width / 2) * ca + (y - height / 2) * sa;
      const light = 1 - shot.shade * (0.5 + 0.5 * across) ** 1.5;
      raw[y * width + x] = (sum / 4) * light * 0.92;
    }
  }
  const grey = new Uint8Array(width * height);
  const soft = blur(raw, width, height, shot.blurPx);
  for (let i = 0; i < soft.length; i++) {
    const noise = shot.noise * (shot.random() + shot.random() + shot.random() - 1.5) * 2;
    grey[i] = Math.max(0, Math.min(255, Math.round(soft[i]! + noise)));
  }
  return { width, height, grey };
}

/** What lies at a place of the camera's picture, without allocation: it is asked millions of times. */
function lookerAt(picture: PaperPicture, camera: Camera): (x: number, y: number) => number {
  const [a, b, c, d, e, f, g, h, k] = adjugate3(camera.paperToImage) as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const { width, height, grey, pixelsPerMm, leftTopMm } = picture;
  const [cx, cy] = [camera.width / 2, camera.height / 2];
  const half2 = cx * cx + cy * cy;
  return (x, y) => {
    const dx = x - cx;
    const dy = y - cy;
    const bend = 1 + (camera.radial * (dx * dx + dy * dy)) / half2;
    const px = cx + dx * bend;
    const py = cy + dy * bend;
    const w = g * px + h * py + k;
    const right = (a * px + b * py + c) / w;
    const up = (d * px + e * py + f) / w;
    const u = (right - leftTopMm[0]) * pixelsPerMm - 0.5;
    const v = (leftTopMm[1] - up) * pixelsPerMm - 0.5;
    const i = Math.floor(u);
    const j = Math.floor(v);
    if (i < 0 || j < 0 || i >= width - 1 || j >= height - 1) {
      return 110 + 30 * Math.sin(right / 9) + 20 * Math.sin((up + 0.2 * right) / 31);
    }
    const s = u - i;
    const t = v - j;
    const at = j * width + i;
    return (
      (grey[at]! * (1 - s) + grey[at + 1]! * s) * (1 - t) +
      (grey[at + width]! * (1 - s) + grey[at + width + 1]! * s) * t
    );
  };
}

function blur(from: Float32Array, width: number, height: number, sigma: number): Float32Array {
  if (sigma === 0) return from;
  const r = Math.ceil(3 * sigma);
  const weights = Array.from({ length: 2 * r + 1 }, (_, i) => Math.exp(-((i - r) ** 2) / (2 * sigma * sigma)));
  const total = weights.reduce((a, b) => a + b, 0);
  const pass = (source: Float32Array, stepX: number, stepY: number): Float32Array => {
    const out = new Float32Array(source.length);
    const stride = stepX + stepY * width;
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const at = y * width + x;
        const place = stepX === 1 ? x : y;
        const last = stepX === 1 ? width - 1 : height - 1;
        let sum = 0;
        for (let k = -r; k <= r; k++) {
          const to = place + k < 0 ? -place : place + k > last ? last - place : k;
          sum += weights[k + r]! * source[at + to * stride]!;
        }
        out[at] = sum / total;
      }
    }
    return out;
  };
  return pass(pass(from, 1, 0), 0, 1);
}

/** A camera anywhere within 35 degrees over the sheets, any way round, wide to a little tele. */
export function anyCamera(random: Random, options: Partial<CameraOptions> = {}): Camera {
  const drawn = {
    tiltDeg: 35 * random(),
    axisDeg: 360 * random(),
    rollDeg: 360 * random(),
    focal: 0.7 + random(),
  };
  return cameraOver({ width: 1400, height: 1050, paper: 'a4', tiles: 3, ...drawn, ...options });
}

/** Usual faults of a photo: noise of 4 greys, a blur, one corner half as bright. */
export const anyShot = (random: Random): ShotOptions => ({
  random,
  noise: 4,
  blurPx: 0.5 + 0.6 * random(),
  shade: 0.6 * random(),
});

/** A back-like section: a flat-topped arch, steeper outward, its right side a little lower. */
export const archUp = (right: number): number =>
  -14 - 168 * (Math.abs(right) / 240) ** 1.8 - (right > 0 ? 10 * (right / 240) ** 2 : 0);

export const ARCH: readonly SheetPoint[] = Array.from({ length: 321 }, (_, i): SheetPoint => {
  const right = -240 + 1.5 * i;
  return [right, archUp(right)];
});

/** Clicks near the arch as seen, wrong by up to 2 px each way. */
export const clicksAlong = (camera: Camera, random: Random, rights: readonly number[]): PixelPoint[] =>
  rights.map((right) => {
    const [x, y] = seenAt(camera, [right, archUp(right)]);
    return [x + 4 * random() - 2, y + 4 * random() - 2];
  });

/** Largest distance of points from a line, mm. */
export function worstFrom(line: readonly SheetPoint[], points: readonly (readonly number[])[]): number {
  let worst = 0;
  for (const p of points) {
    let least = Number.POSITIVE_INFINITY;
    for (let i = 1; i < line.length; i++) {
      const [a, b] = [line[i - 1]!, line[i]!];
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
      const t = Math.max(0, Math.min(1, ((p[0]! - a[0]) * dx + (p[1]! - a[1]) * dy) / (dx * dx + dy * dy)));
      least = Math.min(least, Math.hypot(p[0]! - a[0] - t * dx, p[1]! - a[1] - t * dy));
    }
    worst = Math.max(worst, least);
  }
  return worst;
}

/** The picture turned by quarters clockwise. */
export function turnPicture(image: GreyImage, quarters: number): GreyImage {
  let now = image;
  for (let k = 0; k < quarters; k++) {
    const { width, height, grey } = now;
    const turned = new Uint8Array(grey.length);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) turned[x * height + (height - 1 - y)] = grey[y * width + x]!;
    }
    now = { width: height, height: width, grey: turned };
  }
  return now;
}
