import type { BarSection, BarSurface } from './measure-surface.ts';
import { createHeightJet, type Underside } from './underside.ts';

const POINTS = 97;
/** Where rounded corners leave less than this from middle to edge, the bar has ended, mm. */
const LEAST_HALF_WIDTH_MM = 0.5;

/** An underside of ours as a surface to be measured: exact, with its own bearing line, flare and relief known. */
export function surfaceOfUnderside(bar: Underside, side: 'left' | 'right'): BarSurface {
  const { fromMm, toMm } = barExtent(bar);
  return {
    side,
    source: 'pattern',
    fromMm,
    toMm,
    bearingLine: {
      sentence: "Rock is measured along the bar's own bearing line, the pattern's inset from its inner edge.",
      yMm: (bMm) => bar.row(bMm).bearingY[0],
    },
    section: (bMm) => sectionOf(bar, bMm, false),
    known: {
      bareSection: (bMm) => sectionOf(bar, bMm, true),
      reliefEndsYMm: (bMm) => reliefEnds(bar, bMm),
      flareLiftMm: (bMm) => bar.row(bMm).flare[0],
    },
  };
}

/** Stations where the bar's outline has width: 0 and the length, unless rounded corners meet before the tip edge. mm */
export function barExtent(bar: Underside): { fromMm: number; toMm: number } {
  const { lengthMm } = bar.shape;
  return { fromMm: firstWide(bar, 0, lengthMm / 2), toMm: firstWide(bar, lengthMm, lengthMm / 2) };
}

function firstWide(bar: Underside, tipMm: number, middleMm: number): number {
  const wide = (b: number): boolean => bar.row(b).outlineHalfWidthY >= LEAST_HALF_WIDTH_MM;
  if (wide(tipMm)) return tipMm;
  let [narrow, broad] = [tipMm, middleMm];
  for (let i = 0; i < 50; i++) {
    const b = (narrow + broad) / 2;
    if (wide(b)) broad = b;
    else narrow = b;
  }
  return broad;
}

function sectionOf(bar: Underside, bMm: number, bare: boolean): BarSection | null {
  if (!(bMm >= 0 && bMm <= bar.shape.lengthMm)) return null;
  const row = bar.row(bMm);
  const half = row.outlineHalfWidthY;
  if (!(half > 0)) return null;
  const jet = createHeightJet();
  const yMm = Float64Array.from({ length: POINTS }, (_, i) => row.middleY[0] + half * ((2 * i) / (POINTS - 1) - 1));
  const zMm = yMm.map((y) => bar.heightJet(row, y, jet, bare).z);
  return { innerYMm: yMm[0], outerYMm: yMm[POINTS - 1], yMm, zMm };
}

function reliefEnds(bar: Underside, bMm: number): [number, number] {
  const row = bar.row(bMm);
  const { reliefFraction, reliefDepthMm } = bar.shape;
  const bareShare = reliefDepthMm > 0 ? 1 - 2 * reliefFraction : 1;
  const half = Math.min(row.outlineHalfWidthY, bareShare * row.halfWidthY[0]);
  return [row.middleY[0] - half, row.middleY[0] + half];
}
