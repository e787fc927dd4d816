import { createSectionHeight, type SectionsBackDocument } from '@barwright/geometry';

/** One line of the drawing, pairs of mm, with how far it may be off, mm up and down. */
export interface DoubtLine {
  readonly along: readonly number[];
  readonly heightMm: readonly number[];
  readonly doubtMm: readonly number[];
}

export interface NumbersLines {
  readonly topline: DoubtLine;
  readonly bearing: DoubtLine;
  readonly sections: readonly { readonly xMm: number; readonly line: DoubtLine }[];
  readonly lengthMm: number;
  readonly bearingYMm: number;
}

const STEP_X_MM = 10;
const STEP_Y_MM = 4;
const TO_Y_MM = 200;

/**
 * Topline, bearing line and the three sections that were measured. Off by the stated height error, and by the stated
 * slope error times the distance from the bearing line, about which a section tilts: root of the sum of squares.
 */
export function numbersLines(document: SectionsBackDocument): NumbersLines {
  const height = createSectionHeight(document, { left: 0, right: 0 });
  const { uncertaintyMm, uncertaintyDeg } = document.measured;
  const tangent = Math.tan((uncertaintyDeg * Math.PI) / 180);
  const doubt = (y: number): number => Math.hypot(uncertaintyMm, (Math.abs(y) - document.bearingLineYMm) * tangent);
  const lengthMm = document.usableLengthMm;
  const along = (y: number): DoubtLine => {
    const xs: number[] = [];
    for (let x = height.fromXMm; x <= height.toXMm; x += STEP_X_MM) xs.push(x);
    return { along: xs, heightMm: xs.map((x) => height.row(x)(y)), doubtMm: xs.map(() => doubt(y)) };
  };
  const across = (x: number): DoubtLine => {
    const row = height.row(x);
    const ys: number[] = [];
    for (let y = -TO_Y_MM; y <= TO_Y_MM; y += STEP_Y_MM) ys.push(y);
    return { along: ys, heightMm: ys.map((y) => row(y)), doubtMm: ys.map(doubt) };
  };
  const bearingYMm = document.bearingLineYMm;
  return {
    topline: along(0),
    bearing: along(bearingYMm),
    sections: [0, lengthMm / 2, lengthMm].map((xMm) => ({ xMm, line: across(xMm) })),
    lengthMm,
    bearingYMm,
  };
}

/** Height of a line at a place, straight between its points. */
export function heightOn(line: DoubtLine, at: number): number {
  const { along, heightMm } = line;
  const behind = along.findIndex((v) => v >= at);
  if (behind <= 0) return behind === 0 ? heightMm[0]! : heightMm.at(-1)!;
  const share = (at - along[behind - 1]!) / (along[behind]! - along[behind - 1]!);
  return heightMm[behind - 1]! + share * (heightMm[behind]! - heightMm[behind - 1]!);
}

/** Deepest place under a straight stick from one end to the other. */
export function deepest(line: DoubtLine, from: number, to: number): { at: number; stickMm: number; heightMm: number } {
  const [a, b] = [heightOn(line, from), heightOn(line, to)];
  const stick = (x: number): number => a + ((b - a) * (x - from)) / (to - from);
  let best = { at: (from + to) / 2, stickMm: stick((from + to) / 2), heightMm: heightOn(line, (from + to) / 2) };
  for (let x = from; x <= to; x += STEP_X_MM / 2) {
    const here = { at: x, stickMm: stick(x), heightMm: heightOn(line, x) };
    if (here.stickMm - here.heightMm > best.stickMm - best.heightMm) best = here;
  }
  return best;
}
