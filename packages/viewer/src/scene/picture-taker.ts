import { toHex } from '@barwright/geometry';
import { figureText, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import type { Look } from './look-of.ts';

export const PRINT_WIDTH_PX = 3000;

type Taker = (widthPx: number) => HTMLCanvasElement;
let taker: Taker | null = null;

/** The picture offers itself while it is there. */
export function offerTaker(offered: Taker): () => void {
  taker = offered;
  return () => {
    if (taker === offered) taker = null;
  };
}

export interface PictureSheet {
  readonly title: string;
  readonly look: Look;
  readonly units: Units;
  /** Units, exaggeration, cautions: one line each, drawn under the legend. */
  readonly notes: readonly string[];
}

const MARGIN = 60;
const FONT = '"Source Sans 3 Variable", "Source Sans 3", sans-serif';
const PAPER = '#ffffff';
const INK = '#2a2926';
const STOPS = 48;

/** The view at print size on a white sheet with title, scale and notes, as PNG; null where there is no picture. */
export function takePicture(sheet: PictureSheet): Promise<Blob | null> {
  if (taker === null) return Promise.resolve(null);
  const view = taker(PRINT_WIDTH_PX);
  const canvas = document.createElement('canvas');
  canvas.width = view.width;
  canvas.height = 140 + view.height + 220 + 52 * sheet.notes.length;
  const pen = canvas.getContext('2d')!;
  pen.fillStyle = PAPER;
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(view, 0, 140);
  write(pen, sheet.title, MARGIN, 92, 62, '600');
  drawScale(pen, sheet, 140 + view.height + 50);
  sheet.notes.forEach((note, i) => {
    write(pen, note, MARGIN, view.height + 350 + 52 * i, 38);
  });
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'));
}

function write(pen: CanvasRenderingContext2D, words: string, x: number, y: number, px: number, weight = '400'): void {
  pen.font = `${weight} ${px}px ${FONT}`;
  pen.fillStyle = INK;
  pen.fillText(words, x, y, pen.canvas.width - 2 * MARGIN);
}

function drawScale(pen: CanvasRenderingContext2D, { look, units }: PictureSheet, y: number): void {
  const { from, to } = look.table;
  const [x, wide] = [MARGIN + 640, 1500];
  write(pen, look.title, MARGIN, y + 44, 44, '600');
  for (let i = 0; i < STOPS; i++) {
    pen.fillStyle = toHex(look.colourAt(from + ((i + 0.5) / STOPS) * (to - from)));
    pen.fillRect(x + (i * wide) / STOPS, y, wide / STOPS + 1, 52);
  }
  pen.strokeStyle = INK;
  pen.strokeRect(x, y, wide, 52);
  pen.textAlign = 'center';
  for (const share of [0, 0.25, 0.5, 0.75, 1])
    write(pen, figureText(look.figureOf(from + share * (to - from), units)), x + share * wide, y + 100, 38);
  pen.textAlign = 'left';
  write(pen, `${TEXTS.scene.lineEach} ${figureText(look.figureOf(look.step, units))}`, x + wide + 100, y + 44, 38);
}
