import { RAD_PER_DEG } from '../units/index.ts';
import { checkConsistency, listRemarks } from './check-consistency.ts';
import { evaluateValues, type ResolvedValue } from './evaluate-values.ts';
import { evaluateWithGullet } from './gullet-width.ts';
import { listPatternFields, type StationPlace, stationKey } from './list-fields.ts';
import { DEFAULT_MATERIALS } from './pattern-fields.ts';
import type { PatternDocument } from './pattern-schema.ts';
import { checkNames, GULLET_WIDTH } from './read-pattern.ts';

export interface ResolvedStation {
  readonly name: string;
  /** Distance from the front tip edge. */
  readonly atMm: number;
  /** Chord below horizontal, going outward. */
  readonly slopeRad: number;
  /** Inner edge to inner edge of a symmetric pair. */
  readonly spreadMm: number;
  /** Along the chord. */
  readonly widthMm: number;
  /** 1 / crown radius, 0 flat. */
  readonly crownCurvaturePerMm: number;
  /** Horizontal, from the inner edge outward. */
  readonly bearingInsetMm: number;
  readonly thicknessMm: number;
}

/** One bar in mm and radians, measured from the front tip edge. Shares are 0..1. */
export interface BarParameters {
  readonly lengthMm: number;
  /** By rising atMm, at least one. */
  readonly stations: readonly ResolvedStation[];
  /** 1 / rock radius, + convex downward, 0 flat. */
  readonly rockCurvaturePerMm: number;
  readonly rockLowPointMm: number;
  readonly flareZoneFrontMm: number;
  readonly flareZoneRearMm: number;
  readonly flareLiftFrontMm: number;
  readonly flareLiftRearMm: number;
  readonly reliefDepthMm: number;
  /** Share of the width relieved along each edge. */
  readonly reliefFraction: number;
  /** Share of the width left at the tip edges. */
  readonly tipTaper: number;
  readonly tipRoundMm: number;
  /** Of the tip at its root and at its edge. */
  readonly tipThicknessMm: number;
  readonly tipEdgeThicknessMm: number;
  readonly tipLengthFrontMm: number;
  readonly tipLengthRearMm: number;
  /** Share of the thickness next to the horse that is of the lower material. */
  readonly lowerShare: number;
  readonly slotCentreMm: number;
  readonly slotLengthMm: number;
  readonly slotWidthMm: number;
  /** Slot's middle across the width, 0 inner edge, 1 outer edge. */
  readonly slotAcross: number;
}

/** What both bars share, mm from the front tip edge unless said. */
export interface SharedParameters {
  readonly lengthMm: number;
  readonly seatLengthMm: number;
  readonly forkBackMm: number;
  readonly cantleFrontMm: number;
  /** Where fork and cantle hold the bars. */
  readonly forkFootFromMm: number;
  readonly forkFootToMm: number;
  readonly cantleFootFromMm: number;
  readonly cantleFootToMm: number;
  readonly seatLowMm: number;
  readonly handHoleMm: number;
  /** Vertical, above the line joining the inner lower edges. */
  readonly gulletHeightMm: number;
  readonly groundSeatFromMm: number;
  readonly groundSeatToMm: number;
  /** Underside of the ground seat above the bars' upper inner edges: at its front end, and from the seat low point back. */
  readonly groundSeatRiseFrontMm: number;
  readonly groundSeatRiseMm: number;
  readonly stirrupHangMm: number;
}

/** Something a person should know, that hinders nothing. */
export interface PatternRemark {
  readonly field: string;
  readonly sentence: string;
}

export interface ResolvedPattern {
  readonly name: string;
  readonly right: BarParameters;
  readonly left: BarParameters;
  readonly shared: SharedParameters;
  readonly materials: Readonly<Record<string, string>>;
  /** Every value by its name, in the field's unit (mm, degrees, %): right bar and shared. */
  readonly values: Readonly<Record<string, ResolvedValue>>;
  /** The same for the left bar. */
  readonly leftValues: Readonly<Record<string, ResolvedValue>>;
  readonly remarks: readonly PatternRemark[];
}

/**
 * The numbers of a pattern: shop numbers and expressions evaluated, defaults filled in, ranges and consistency checked.
 * Throws InputError naming the value.
 */
export function resolvePattern(document: PatternDocument): ResolvedPattern {
  checkNames(document);
  const right = evaluateSide(document, document.values, 'values');
  const hasLeft = Object.keys(document.leftValues).length > 0;
  const leftWritten = { ...document.values, ...document.leftValues };
  const left = hasLeft ? evaluateSide(document, leftWritten, 'leftValues') : right;
  const rightBar = toBar(right, document.stations);
  const leftBar = hasLeft ? toBar(left, document.stations) : rightBar;
  const shared = toShared(right);
  checkConsistency(rightBar, shared, 'values');
  if (hasLeft) checkConsistency(leftBar, shared, 'leftValues');
  return {
    name: document.name,
    right: rightBar,
    left: leftBar,
    shared,
    materials: { ...DEFAULT_MATERIALS, ...document.materials },
    values: Object.fromEntries(right),
    leftValues: Object.fromEntries(left),
    remarks: listRemarks(document, rightBar, leftBar, shared),
  };
}

function evaluateSide(document: PatternDocument, written: PatternDocument['values'], place: string) {
  const fields = listPatternFields(document.stations);
  const hasGullet = Object.hasOwn(document.values, GULLET_WIDTH);
  return hasGullet ? evaluateWithGullet(document, fields, written, place) : evaluateValues(fields, written, place);
}

function toBar(values: ReadonlyMap<string, ResolvedValue>, stations: readonly StationPlace[]): BarParameters {
  const number = (key: string): number => values.get(key) as number;
  const share = (key: string): number => number(key) / 100;
  const curvature = (key: string): number => (values.get(key) === 'flat' ? 0 : 1 / number(key));
  const lengthMm = number('length');
  const toStation = ({ name, atPercent }: StationPlace): ResolvedStation => ({
    name,
    atMm: (atPercent / 100) * lengthMm,
    slopeRad: number(stationKey('slope', name)) * RAD_PER_DEG,
    spreadMm: number(stationKey('spread', name)),
    widthMm: number(stationKey('width', name)),
    crownCurvaturePerMm: curvature(stationKey('crown', name)),
    bearingInsetMm: number(stationKey('bearingInset', name)),
    thicknessMm: number(stationKey('thickness', name)),
  });
  return {
    lengthMm,
    stations: stations.map(toStation).sort((a, b) => a.atMm - b.atMm),
    rockCurvaturePerMm: curvature('rockRadius'),
    rockLowPointMm: share('rockLowPoint') * lengthMm,
    flareZoneFrontMm: number('flareZoneFront'),
    flareZoneRearMm: number('flareZoneRear'),
    flareLiftFrontMm: number('flareLiftFront'),
    flareLiftRearMm: number('flareLiftRear'),
    reliefDepthMm: number('reliefDepth'),
    reliefFraction: share('reliefWidth'),
    tipTaper: share('tipTaper'),
    tipRoundMm: number('tipRound'),
    tipThicknessMm: number('tipThickness'),
    tipEdgeThicknessMm: number('tipEdgeThickness'),
    tipLengthFrontMm: number('tipLengthFront'),
    tipLengthRearMm: number('tipLengthRear'),
    lowerShare: share('lowerShare'),
    slotCentreMm: share('slotCentre') * lengthMm,
    slotLengthMm: number('slotLength'),
    slotWidthMm: number('slotWidth'),
    slotAcross: share('slotAcross'),
  };
}

function toShared(values: ReadonlyMap<string, ResolvedValue>): SharedParameters {
  const number = (key: string): number => values.get(key) as number;
  return {
    lengthMm: number('length'),
    seatLengthMm: number('seatLength'),
    forkBackMm: number('forkBack'),
    cantleFrontMm: number('cantleFront'),
    forkFootFromMm: number('forkFootFrom'),
    forkFootToMm: number('forkFootTo'),
    cantleFootFromMm: number('cantleFootFrom'),
    cantleFootToMm: number('cantleFootTo'),
    seatLowMm: number('seatLow'),
    handHoleMm: number('handHole'),
    gulletHeightMm: number('gulletHeight'),
    groundSeatFromMm: number('groundSeatFrom'),
    groundSeatToMm: number('groundSeatTo'),
    groundSeatRiseFrontMm: number('groundSeatRiseFront'),
    groundSeatRiseMm: number('groundSeatRise'),
    stirrupHangMm: (number('stirrupHang') / 100) * number('length'),
  };
}
