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

/** A photo of the paper on a table of planks: 3 x 3 looks a pixel, blur, uneven light, noise. */
export function photograph(picture: PaperPicture, camera: Camera, shot: ShotOptions): GreyImage {
  const { width, height } = camera;
  const back = adjugate3(camera.paperToImage);
  const half = Math.hypot(width, height) / 2;
  const raw = new Float32Array(width * height);
  const angle = 2 * Math.PI * shot.random();
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (let k = 0; k < 9; k++) {
        const [dx, dy] = [
          (x + ((k % 3) + 0.5) / 3 - width / 2) / half,
          (y + (Math.floor(k / 3) + 0.5) / 3 - height / 2) / half,
        ];
        const bend = 1 + camera.radial * (dx * dx + dy * dy);
        const mm = through(back, [width / 2 + dx * bend * half, height / 2 + dy * bend * half]);
        sum += lookUp(picture, mm);
      }
      const across = ((x - width / 2) * Math.cos(angle) + (y - height / 2) * Math.sin(angle)) / half;
      const light = 1 - shot.shade * (0.5 + 0.5 * across) ** 1.5;
      raw[y * width + x] = (sum / 9) * light * 0.92;
    }
  }
  const grey = new Uint8Array(width * height);
  const soft = blur(raw, width, height, shot.blurPx);
  for (let i = 0; i < soft.length; i++) {
    const noise = shot.noise * (shot.random() + shot.random() + shot.random() + shot.random() - 2) * Math.sqrt(3);
    grey[i] = Math.max(0, Math.min(255, Math.round(soft[i]! + noise)));
  }
  return { width, height, grey };
}

function lookUp(picture: PaperPicture, p: SheetPoint): number {
  const [x, y] = toPixels(picture, p);
  const [i, j] = [Math.floor(x - 0.5), Math.floor(y - 0.5)];
  if (i < 0 || j < 0 || i >= picture.width - 1 || j >= picture.height - 1) {
    return 110 + 30 * Math.sin(p[0] / 9) + 20 * Math.sin((p[1] + 0.2 * p[0]) / 31);
  }
  const [s, t] = [x - 0.5 - i, y - 0.5 - j];
  const k = j * picture.width + i;
  const { grey, width } = picture;
  return (
    (grey[k]! * (1 - s) + grey[k + 1]! * s) * (1 - t) + (grey[k + width]! * (1 - s) + grey[k + width + 1]! * s) * t
  );
}

function blur(from: Float32Array, width: number, height: number, sigma: number): Float32Array {
  if (sigma === 0) return from;
  const r = Math.ceil(3 * sigma);
  const weights = Array.from({ length: 2 * r + 1 }, (_, i) => Math.exp(-((i - r) ** 2) / (2 * sigma * sigma)));
  const total = weights.reduce((a, b) => a + b, 0);
  const pass = (source: Float32Array, dx: number, dy: number): Float32Array => {
    const out = new Float32Array(source.length);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        let sum = 0;
        for (let k = -r; k <= r; k++) {
          const u = Math.max(0, Math.min(width - 1, x + k * dx));
          const v = Math.max(0, Math.min(height - 1, y + k * dy));
          sum += weights[k + r]! * source[v * width + u]!;
        }
        out[y * width + x] = sum / total;
      }
    }
    return out;
  };
  return pass(pass(from, 1, 0), 0, 1);
}
