import { DEG_PER_RAD } from '../units/index.ts';
import { type Arc, arcHeight, arcTangentRad } from './measure-arc.ts';
import { radiusOf } from './measure-line.ts';
import type { BareSection } from './measure-section.ts';

/** A station plane to be measured. */
export interface StationPlane {
  readonly name: string;
  readonly bMm: number;
}

/** One bar at one station; definitions by name in MEASURE_DEFINITIONS. mm, degrees. */
export interface StationMeasures extends StationPlane {
  readonly slopeDeg: number;
  readonly reliefChordSlopeDeg: number;
  readonly middleTangentSlopeDeg: number;
  readonly innerEdgeYMm: number;
  readonly outerEdgeYMm: number;
  readonly widthMm: number;
  readonly crownRadiusMm: number | null;
  readonly crownHeightMm: number;
  readonly reliefWidthInnerMm: number;
  readonly reliefWidthOuterMm: number;
  readonly reliefDepthInnerMm: number;
  readonly reliefDepthOuterMm: number;
  readonly residualMm: number;
}

/** The figures of one section. */
export function measureStation(plane: StationPlane, bare: BareSection): StationMeasures {
  const { innerYMm, outerYMm, reliefInnerYMm, reliefOuterYMm, arc } = bare;
  const drop = arcHeight(arc, innerYMm) - arcHeight(arc, outerYMm);
  const widthMm = Math.hypot(outerYMm - innerYMm, drop);
  return {
    ...plane,
    slopeDeg: chordSlopeDeg(arc, innerYMm, outerYMm),
    reliefChordSlopeDeg: chordSlopeDeg(arc, reliefInnerYMm, reliefOuterYMm),
    middleTangentSlopeDeg: -arcTangentRad(arc, (innerYMm + outerYMm) / 2) * DEG_PER_RAD,
    innerEdgeYMm: innerYMm,
    outerEdgeYMm: outerYMm,
    widthMm,
    crownRadiusMm: radiusOf(arc.curvaturePerMm),
    crownHeightMm: sagitta(arc.curvaturePerMm, widthMm),
    reliefWidthInnerMm: reliefInnerYMm - innerYMm,
    reliefWidthOuterMm: outerYMm - reliefOuterYMm,
    reliefDepthInnerMm: bare.reliefDepthInnerMm,
    reliefDepthOuterMm: bare.reliefDepthOuterMm,
    residualMm: bare.residualMm,
  };
}

/** Angle below horizontal, going outward, of the arc's chord between two outward distances. */
export function chordSlopeDeg(arc: Arc, innerYMm: number, outerYMm: number): number {
  return Math.atan2(arcHeight(arc, innerYMm) - arcHeight(arc, outerYMm), outerYMm - innerYMm) * DEG_PER_RAD;
}

/** Exact sagitta of an arc over a chord: R - sqrt(R^2 - w^2/4), written for curvature so that flat is 0. */
export function sagitta(curvaturePerMm: number, chordMm: number): number {
  const halfAngleSine = (curvaturePerMm * chordMm) / 2;
  return (halfAngleSine * chordMm) / 2 / (1 + Math.sqrt(1 - halfAngleSine * halfAngleSine));
}
