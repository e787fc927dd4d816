import { InputError } from '../numeric/index.ts';
import { arcHeight } from './measure-arc.ts';
import { type FlareMeasures, type Flares, measureFlares } from './measure-flare.ts';
import { findLowPoint, type LineHeight, type LineName, measureRock, type RockMeasures } from './measure-line.ts';
import { BARE_DEFAULTS, type BareOptions, type BareSection, bareSectionAt } from './measure-section.ts';
import { chordSlopeDeg, measureStation, type StationMeasures, type StationPlane } from './measure-station.ts';
import type { BarSurface } from './measure-surface.ts';

export interface MeasureOptions {
  /** Station planes to measure; those of the pattern or 20, 50 and 80 %, and every 50 mm, when left out. */
  readonly stations?: readonly StationPlane[];
  /** Ends of the chord of the rock, behind the front tip edge; the bearing length when left out. mm */
  readonly rockChord?: { readonly fromMm: number; readonly toMm: number };
  /** Share of the width relieved along each edge of a mesh; found from its shape when left out. */
  readonly reliefFraction?: number;
  /** How far points of a mesh may lie from an arc before they count as relief or flare, at least. mm */
  readonly toleranceMm?: number;
}

/** One bar; definitions by name in MEASURE_DEFINITIONS. mm, degrees. */
export interface BarMeasures {
  readonly side: 'left' | 'right';
  readonly overallLengthMm: number;
  readonly bearingLengthMm: number;
  /** Which line the rock was measured along. */
  readonly bearingLine: string;
  readonly stations: readonly StationMeasures[];
  /** On the bearing line, the inner edge, the middle and the outer edge: on a twisted bar they differ. */
  readonly rock: readonly RockMeasures[];
  readonly lowPointMm: number | null;
  readonly twistDeg: number;
  readonly twistDegPer100Mm: number;
  readonly flareFront: FlareMeasures;
  readonly flareRear: FlareMeasures;
  /** What a reader should know about these figures. */
  readonly remarks: readonly string[];
}

/** Where bar twist is measured, shares of overall length. */
const TWIST_FRONT = 0.2;
const TWIST_REAR = 0.8;

/**
 * Measures one bar's underside at its stations and along its lines.
 * @throws InputError 'degenerate' where the bar has no measurable section at 20 or 80 % of its length, or its bearing line is no line
 */
export function measureBar(
  surface: BarSurface,
  stations: readonly StationPlane[],
  options: MeasureOptions = {},
): BarMeasures {
  const bare = rememberSections(surface, { toleranceMm: BARE_DEFAULTS.toleranceMm, ...options });
  const heightOn = (yMm: (bMm: number, s: BareSection) => number): LineHeight => {
    return (bMm) => {
      const section = bare(bMm);
      return section === null ? Number.NaN : arcHeight(section.arc, yMm(bMm, section));
    };
  };
  const bearing = heightOn((bMm) => surface.bearingLine.yMm(bMm));
  const flares =
    measureFlares(surface, bearing, options.toleranceMm ?? BARE_DEFAULTS.toleranceMm) ?? refuseShape(surface.side);
  const chord = options.rockChord ?? {
    fromMm: surface.fromMm + flares.front.flareZoneFromStartMm,
    toMm: surface.toMm - flares.rear.flareZoneFromStartMm,
  };
  const lines: [LineName, LineHeight][] = [
    ['bearing', bearing],
    ['inner edge', heightOn((_, s) => s.innerYMm)],
    ['middle', heightOn((_, s) => (s.innerYMm + s.outerYMm) / 2)],
    ['outer edge', heightOn((_, s) => s.outerYMm)],
  ];
  const rock = lines.map(([name, height]) => measureRock(name, height, chord.fromMm, chord.toMm));
  const measured: StationMeasures[] = [];
  const remarks: string[] = [];
  for (const plane of stations) {
    const section = bare(plane.bMm);
    if (section === null) remarks.push(`Station ${plane.name}: no section to measure.`);
    else measured.push(measureStation(plane, section));
  }
  return {
    side: surface.side,
    overallLengthMm: surface.toMm - surface.fromMm,
    bearingLengthMm: bearingLength(surface, flares),
    bearingLine: surface.bearingLine.sentence,
    stations: measured,
    rock: rock.filter((line) => line !== null),
    lowPointMm: findLowPoint(bearing, chord.fromMm, chord.toMm),
    ...measureTwist(surface, bare),
    flareFront: flares.front,
    flareRear: flares.rear,
    remarks: [...remarks, ...remarkBearingLine(surface, bare, chord)],
  };
}

const bearingLength = (surface: BarSurface, { front, rear }: Flares): number =>
  surface.toMm - surface.fromMm - front.flareZoneFromStartMm - rear.flareZoneFromStartMm;

/** Sections are asked for by several figures; each is found once. */
function rememberSections(surface: BarSurface, options: BareOptions): (bMm: number) => BareSection | null {
  const found = new Map<number, BareSection | null>();
  return (bMm) => {
    let section = found.get(bMm);
    if (section === undefined) {
      section = bareSectionAt(surface, bMm, options);
      found.set(bMm, section);
    }
    return section;
  };
}

function measureTwist(surface: BarSurface, bare: (bMm: number) => BareSection | null) {
  const length = surface.toMm - surface.fromMm;
  const [front, rear] = [TWIST_FRONT, TWIST_REAR].map((share) => bare(surface.fromMm + share * length));
  if (front === null || rear === null) return refuseShape(surface.side);
  const slope = (s: BareSection): number => chordSlopeDeg(s.arc, s.innerYMm, s.outerYMm);
  const twistDeg = slope(front) - slope(rear);
  return { twistDeg, twistDegPer100Mm: (100 * twistDeg) / ((TWIST_REAR - TWIST_FRONT) * length) };
}

function remarkBearingLine(
  surface: BarSurface,
  bare: (bMm: number) => BareSection | null,
  { fromMm, toMm }: { fromMm: number; toMm: number },
): string[] {
  let beyond = 0;
  for (let i = 0; i <= 20; i++) {
    const bMm = fromMm + ((toMm - fromMm) * i) / 20;
    const section = bare(bMm);
    if (section === null) continue;
    const yMm = surface.bearingLine.yMm(bMm);
    beyond = Math.max(beyond, section.innerYMm - yMm, yMm - section.outerYMm);
  }
  if (beyond < 0.05) return [];
  return [`The bearing line runs up to ${beyond.toFixed(1)} mm beside the bar; the section's arc was continued to it.`];
}

function refuseShape(side: string): never {
  throw new InputError({
    code: 'degenerate',
    field: `${side} bar`,
    got: 'sections that follow no arc, or too few of them',
    expected: "a bar's underside: one sheet from tip to tip whose sections are arcs or straight",
    remedy: 'Look at the mesh, keep only the bars, and check axes and unit.',
  });
}
