import type { TracingsBackDocument } from '../back/index.ts';
import type { SheetPoint } from '../drawing/index.ts';
import { InputError } from '../numeric/index.ts';
import { curveToPaper } from './curve-to-paper.ts';
import type { PixelPoint } from './grey-image.ts';
import { joinPieces } from './join-pieces.ts';
import type { PaperPlane } from './paper-plane.ts';
import { paperUncertainty } from './paper-uncertainty.ts';
import { thinCurve } from './thin-curve.ts';

type Curve = TracingsBackDocument['curves'][number];

/** A stretch of one traced line in one photo. */
export interface PhotoPiece {
  readonly plane: PaperPlane;
  readonly pointsPx: readonly PixelPoint[];
}

/** A place in the photo of one of the pieces. */
export interface PiecePlace {
  readonly piece: number;
  readonly atPx: PixelPoint;
}

export interface TracingFromPhotoOptions {
  readonly id: string;
  /** cross: y to the horse's right; lengthwise: x to the tail. Right on the paper in both. */
  readonly kind: 'cross' | 'lengthwise';
  /** Behind the blade edge, mm. */
  readonly stationMm?: number | null;
  readonly side?: 'left' | 'right' | 'both';
  /** A drawn level mark, from the horse's left to its right; left out, a sheet's printed level line. */
  readonly level?: { readonly piece: number; readonly fromPx: PixelPoint; readonly toPx: PixelPoint };
  /** Where the spine's midline was marked; left out, the sheet's printed midline. */
  readonly midline?: PiecePlace;
  /** Points that lie this near to the line through the others are left out, mm. */
  readonly toleranceMm?: number;
  /** Error of following the line in the photo, px: about 0.5 where snapped, 1 by hand. */
  readonly linePx?: number;
}

export const TRACING_FROM_PHOTO_DEFAULTS = Object.freeze({ toleranceMm: 0.1, linePx: 0.5 });

export interface PhotoTracing {
  /** Ready for a tracings document in mm. */
  readonly curve: Curve;
  /** Of reading the photo, about 95 %: the worst place of the curve. What the hand did on the horse comes on top. */
  readonly uncertaintyMm: number;
  /** What it is made of, added as squares, mm. */
  readonly parts: {
    readonly cornersMm: number;
    readonly lineMm: number;
    readonly straightnessMm: number;
    readonly joinMm: number;
    readonly thinningMm: number;
  };
  /** Turn taken out so that the level mark lies level, degrees, + right end up; 0 for a printed level line. */
  readonly levelDeg: number;
  /** Uncertainty of that turn from clicking the mark, about 95 %. */
  readonly levelUncertaintyDeg: number;
  readonly warnings: readonly string[];
}

const MOST_POINTS = 5000;
const WARN_JOIN_MM = 1.5;
const WARN_GAP_MM = 15;
const LEAST_LEVEL_MM = 30;

/**
 * One curve of a tracings document from photos of one traced line: brought to the paper, joined, turned until the level
 * mark is level, y (or x) counted from the midline, thinned. z counts from the level line: only differences matter there.
 * @throws InputError 'missing' without pieces, 'inconsistent' for pieces of different prints, 'degenerate' for a line or
 * a level mark that is too short
 */
export function tracingFromPhoto(pieces: readonly PhotoPiece[], options: TracingFromPhotoOptions): PhotoTracing {
  checkPieces(pieces);
  const { toleranceMm, linePx } = { ...TRACING_FROM_PHOTO_DEFAULTS, ...options };
  const joined = joinPieces(pieces.map(({ pointsPx, plane }) => curveToPaper(pointsPx, plane)));
  const level = levelOf(pieces, options);
  const turned = joined.points.map((p) => turnBack(p, level.deg));
  const midline = midlineOf(pieces, options, level.deg);
  const moved = turned.map(([right, up]): SheetPoint => [right - midline, up]);
  let tolerance = toleranceMm;
  let points = thinCurve(moved, tolerance);
  while (points.length > MOST_POINTS) {
    tolerance *= 2;
    points = thinCurve(moved, tolerance);
  }
  if (points.length < 3) points = [0, 1, 2].map((k) => moved[Math.round((k / 2) * (moved.length - 1))]!);
  const parts = { ...partsOf(pieces, linePx), joinMm: joined.apartMm / 2, thinningMm: tolerance };
  const { id, kind, side, stationMm } = options;
  const isLevel = options.level !== undefined || pieces.every(({ plane }) => plane.sheets !== null);
  const cross =
    kind === 'cross'
      ? {
          stationMm: stationMm ?? null,
          level: isLevel ? { point: [...points[0]!], direction: [1, 0] as [number, number] } : null,
        }
      : {};
  return {
    curve: { id, kind, ...(side === undefined ? {} : { side }), ...cross, points: points.map((p) => [p[0], p[1]]) },
    uncertaintyMm: Math.hypot(...Object.values(parts)),
    parts,
    levelDeg: level.deg,
    levelUncertaintyDeg: level.uncertaintyDeg,
    warnings: warningsOf(pieces, joined, isLevel, options),
  };
}

function checkPieces(pieces: readonly PhotoPiece[]): void {
  const refuse = (code: 'missing' | 'inconsistent' | 'degenerate', got: string, expected: string, remedy: string) =>
    new InputError({ code, field: 'pieces', got, expected, remedy });
  if (pieces.length === 0) throw refuse('missing', 'no photo', 'a line in one photo or more', 'Follow the line first');
  const kinds = new Set(
    pieces.map(({ plane: { sheets } }) => (sheets === null ? 'none' : `${sheets.tiles} x ${sheets.paper}`)),
  );
  if (kinds.size > 1) {
    throw refuse('inconsistent', [...kinds].join(' and '), 'photos of sheets of one print', 'Read them one by one');
  }
  if (kinds.has('none') && pieces.length > 1) {
    throw refuse(
      'inconsistent',
      `${pieces.length} photos of a rectangle`,
      'one photo where the paper has no marks: nothing says how two lie to each other',
      'Trace on printed sheets, or take one photo of all of it',
    );
  }
  const short = pieces.find(({ pointsPx }) => pointsPx.length < 2);
  if (short !== undefined) {
    throw refuse('degenerate', `${short.pointsPx.length} points`, 'two points or more', 'Follow the line again');
  }
}

const planeAt = (pieces: readonly PhotoPiece[], piece: number, field: string): PaperPlane => {
  const found = pieces[piece];
  if (found !== undefined) return found.plane;
  throw new InputError({
    code: 'out-of-range',
    field,
    got: `photo ${piece}`,
    expected: `0 to ${pieces.length - 1}`,
    remedy: 'Mark it in one of the photos',
  });
};

function levelOf(pieces: readonly PhotoPiece[], { level }: TracingFromPhotoOptions) {
  if (level === undefined) return { deg: 0, uncertaintyDeg: 0 };
  const plane = planeAt(pieces, level.piece, 'level');
  const [a, b] = curveToPaper([level.fromPx, level.toPx], plane);
  const length = Math.hypot(b![0] - a![0], b![1] - a![1]);
  if (!(length >= LEAST_LEVEL_MM)) {
    throw new InputError({
      code: 'degenerate',
      field: 'level',
      got: `a level mark ${length.toFixed(0)} mm long`,
      expected: `two ends ${LEAST_LEVEL_MM} mm apart or more`,
      remedy: 'Click the ends of the longest level mark: a short one turns the whole tracing',
    });
  }
  // Two ends, each wrong by the clicking error: sqrt 2 of it over the length, twice for 95 %.
  const clickMm = paperUncertainty(plane, level.fromPx, plane.cornerPx).pixelMm;
  return {
    deg: (Math.atan2(b![1] - a![1], b![0] - a![0]) * 180) / Math.PI,
    uncertaintyDeg: ((2 * Math.SQRT2 * clickMm) / length) * (180 / Math.PI),
  };
}

function turnBack([right, up]: SheetPoint, deg: number): SheetPoint {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return [c * right + s * up, c * up - s * right];
}

function midlineOf(pieces: readonly PhotoPiece[], { midline }: TracingFromPhotoOptions, deg: number): number {
  if (midline === undefined) return 0;
  const [place] = curveToPaper([midline.atPx], planeAt(pieces, midline.piece, 'midline'));
  return turnBack(place!, deg)[0];
}

function partsOf(pieces: readonly PhotoPiece[], linePx: number) {
  let [cornersMm, lineMm, straightnessMm] = [0, 0, 0];
  for (const { plane, pointsPx } of pieces) {
    straightnessMm = Math.max(straightnessMm, plane.straightnessMm ?? 0);
    const every = Math.max(1, Math.floor(pointsPx.length / 60));
    const looked = pointsPx.filter((_, i) => i % every === 0 || i === pointsPx.length - 1);
    for (const p of looked) {
      const at = paperUncertainty(plane, p, plane.cornerPx);
      cornersMm = Math.max(cornersMm, 2 * at.cornersMm);
      lineMm = Math.max(lineMm, 2 * linePx * at.pixelMm);
    }
  }
  return { cornersMm, lineMm, straightnessMm };
}

function warningsOf(
  pieces: readonly PhotoPiece[],
  joined: { readonly apartMm: number; readonly gapMm: number },
  isLevel: boolean,
  options: TracingFromPhotoOptions,
): string[] {
  const warnings = [...new Set(pieces.flatMap(({ plane }) => plane.warnings))];
  if (joined.apartMm > WARN_JOIN_MM) {
    warnings.push(
      `Two photos disagree by ${joined.apartMm.toFixed(1)} mm where both show the line: were the sheets taped on their lines?`,
    );
  }
  if (joined.gapMm > WARN_GAP_MM) {
    warnings.push(
      `Between two photos ${joined.gapMm.toFixed(0)} mm of the line are missing: joined by a straight line.`,
    );
  }
  if (options.kind === 'cross' && !isLevel) {
    warnings.push('No level mark: how the section lay on the horse is not known, and will be asked about.');
  }
  if (options.midline === undefined && pieces.some(({ plane }) => plane.sheets === null)) {
    warnings.push('No midline marked: distances count from the middle of the rectangle.');
  }
  return warnings;
}
