import type { BarShape, BarStation } from './bar-shape.ts';

const RADIANS = Math.PI / 180;

interface Row {
  readonly length: number;
  readonly slopesDeg: readonly [number, number, number];
  readonly spreads: readonly [number, number, number];
  readonly widths: readonly [number, number, number];
  readonly crownRadius: number;
  readonly rockRadius: number;
  readonly zones: readonly [number, number];
  readonly lifts: readonly [number, number];
  readonly slot: number;
}

/** The three demo bars of TRADE 5 in plain numbers, without going through pattern documents. */
const ROWS = {
  wren: {
    length: 500,
    slopesDeg: [36, 29, 21],
    spreads: [172, 124, 120],
    widths: [142, 92, 150],
    crownRadius: 450,
    rockRadius: 1150,
    zones: [70, 50],
    lifts: [16, 12],
    slot: 45,
  },
  post: {
    length: 560,
    slopesDeg: [43, 34, 25],
    spreads: [162, 114, 114],
    widths: [150, 95, 158],
    crownRadius: 450,
    rockRadius: 1450,
    zones: [75, 65],
    lifts: [18, 14],
    slot: 45,
  },
  rail: {
    length: 630,
    slopesDeg: [47, 38, 28],
    spreads: [152, 104, 108],
    widths: [152, 98, 165],
    crownRadius: 500,
    rockRadius: 1750,
    zones: [80, 70],
    lifts: [18, 16],
    slot: 44,
  },
} satisfies Record<string, Row>;

export type DemoName = keyof typeof ROWS;

/** Shape of a demo bar; its bearing line is put at |y| = 120 by the insets, as in the demo patterns (DESIGN 2). */
export function demoShape(name: DemoName): BarShape {
  const row: Row = ROWS[name];
  const station = (i: 0 | 1 | 2): BarStation => ({
    name: (['front', 'waist', 'rear'] as const)[i],
    atMm: row.length * [0.2, 0.5, 0.8][i],
    slopeRad: row.slopesDeg[i] * RADIANS,
    spreadMm: row.spreads[i],
    widthMm: row.widths[i],
    crownCurvaturePerMm: 1 / row.crownRadius,
    bearingInsetMm: 120 - row.spreads[i] / 2,
    thicknessMm: 22,
  });
  return {
    lengthMm: row.length,
    stations: [station(0), station(1), station(2)],
    rockCurvaturePerMm: 1 / row.rockRadius,
    rockLowPointMm: row.length / 2,
    flareZoneFrontMm: row.zones[0],
    flareZoneRearMm: row.zones[1],
    flareLiftFrontMm: row.lifts[0],
    flareLiftRearMm: row.lifts[1],
    reliefDepthMm: 4,
    reliefFraction: 0.08,
    tipTaper: 0.75,
    tipRoundMm: 25,
    tipThicknessMm: 8,
    tipEdgeThicknessMm: 8,
    tipLengthFrontMm: row.zones[0],
    tipLengthRearMm: row.zones[1],
    lowerShare: 0,
    slotCentreMm: (row.slot / 100) * row.length,
    slotLengthMm: 70,
    slotWidthMm: 22,
    slotAcross: 0.5,
  };
}

/** A bar with one section all along and nothing added: no flare, relief, taper, rounding or slot. */
export function plainShape(over: Partial<BarShape & BarStation> = {}): BarShape {
  const { atMm = 0, name = 'only' } = over;
  return {
    lengthMm: over.lengthMm ?? 500,
    stations: [
      {
        name,
        atMm,
        slopeRad: over.slopeRad ?? 30 * RADIANS,
        spreadMm: over.spreadMm ?? 130,
        widthMm: over.widthMm ?? 120,
        crownCurvaturePerMm: over.crownCurvaturePerMm ?? 0,
        bearingInsetMm: over.bearingInsetMm ?? 55,
        thicknessMm: over.thicknessMm ?? 22,
      },
    ],
    rockCurvaturePerMm: over.rockCurvaturePerMm ?? 0,
    rockLowPointMm: over.rockLowPointMm ?? (over.lengthMm ?? 500) / 2,
    flareZoneFrontMm: over.flareZoneFrontMm ?? 0,
    flareZoneRearMm: over.flareZoneRearMm ?? 0,
    flareLiftFrontMm: over.flareLiftFrontMm ?? 0,
    flareLiftRearMm: over.flareLiftRearMm ?? 0,
    reliefDepthMm: over.reliefDepthMm ?? 0,
    reliefFraction: over.reliefFraction ?? 0,
    tipTaper: over.tipTaper ?? 1,
    tipRoundMm: over.tipRoundMm ?? 0,
    tipThicknessMm: over.tipThicknessMm ?? 8,
    tipEdgeThicknessMm: over.tipEdgeThicknessMm ?? over.tipThicknessMm ?? 8,
    tipLengthFrontMm: over.tipLengthFrontMm ?? 0,
    tipLengthRearMm: over.tipLengthRearMm ?? 0,
    lowerShare: over.lowerShare ?? 0,
    slotCentreMm: over.slotCentreMm ?? 250,
    slotLengthMm: over.slotLengthMm ?? 0,
    slotWidthMm: over.slotWidthMm ?? 0,
    slotAcross: over.slotAcross ?? 0.5,
  };
}
