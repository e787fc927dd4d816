/** How a figure is defined: makers use one word for several measures, so every figure names its own. */
export interface MeasureDefinition {
  readonly id: string;
  readonly sentence: string;
}

const define = (id: string, sentence: string): MeasureDefinition => Object.freeze({ id, sentence });

const LINE = 'in the vertical lengthwise plane, flare and relief left out';

/** By the name of the figure it defines. Definitions are our own proposals (TRADE 1b); the trade has no agreed ones. */
export const MEASURE_DEFINITIONS = Object.freeze({
  bMm: define('station-from-front-tip', 'Horizontal distance of the station plane behind the front tip edge.'),
  overallLengthMm: define('length-tip-to-tip', 'Front tip edge to rear tip edge, along the horizontal.'),
  bearingLengthMm: define(
    'bearing-length-between-flares',
    'Overall length less both flare zones, each taken to where the flare begins.',
  ),
  slopeDeg: define(
    'slope-chord-edge-to-edge',
    'Angle below horizontal, in the station plane, of the chord from inner to outer edge; relief and flare left out.',
  ),
  reliefChordSlopeDeg: define(
    'slope-chord-relief-to-relief',
    'Angle below horizontal, in the station plane, of the chord from the end of the inner relief to the end of the outer one.',
  ),
  middleTangentSlopeDeg: define(
    'slope-tangent-mid-width',
    'Angle below horizontal of the section halfway between its edges.',
  ),
  includedAngleDeg: define(
    'included-angle-chords',
    '180 less the left and the right slope by the edge-to-edge chords.',
  ),
  includedAngleReliefChordDeg: define(
    'included-angle-relief-chords',
    '180 less the left and the right slope by the relief-to-relief chords.',
  ),
  spreadMm: define('spread-inner-edges', 'Horizontal distance between the inner edges at the station.'),
  innerEdgeYMm: define('inner-edge-from-midplane', 'Horizontal distance of the inner edge from the midplane.'),
  outerEdgeYMm: define('outer-edge-from-midplane', 'Horizontal distance of the outer edge from the midplane.'),
  widthMm: define('width-along-chord', 'Inner to outer edge along the chord in the station plane, before relief.'),
  crownRadiusMm: define(
    'crown-least-squares-arc',
    'Radius of the least-squares arc of the section in the station plane, + convex downward; none where it is flat.',
  ),
  crownHeightMm: define(
    'crown-height-over-width',
    'Exact sagitta of that arc over the width; about width^2 / (8 radius).',
  ),
  reliefWidthInnerMm: define('relief-width-horizontal', 'Horizontal width of the relieved strip along the inner edge.'),
  reliefWidthOuterMm: define('relief-width-horizontal', 'Horizontal width of the relieved strip along the outer edge.'),
  reliefDepthInnerMm: define('relief-depth-along-z', 'Vertical distance of the inner edge from the section continued.'),
  reliefDepthOuterMm: define('relief-depth-along-z', 'Vertical distance of the outer edge from the section continued.'),
  residualMm: define('arc-residual-rms', 'Root mean square distance of the section from its arc, relief left out.'),
  flareLiftMm: define(
    'flare-lift-at-tip-edge',
    'Height of the tip edge over the rock continued as an arc to the tip, on the bearing line.',
  ),
  flareZoneMm: define('flare-zone-lift-over-0.1-mm', 'Length of the tip over which the lift is more than 0.1 mm.'),
  flareZoneFromStartMm: define(
    'flare-zone-square-root-start',
    'Length of the tip from where the square root of the lift, continued as a straight line, comes to nothing.',
  ),
  chordFromMm: define('rock-chord', 'Where the chord of the rock begins, behind the front tip edge.'),
  chordToMm: define('rock-chord', 'Where the chord of the rock ends, behind the front tip edge.'),
  chordMm: define('rock-chord', `Length of the chord, ${LINE}.`),
  sagMm: define('rock-sagitta', `Largest depth of the line below its chord, at the chord's middle, ${LINE}.`),
  radiusMm: define(
    'rock-radius-from-sagitta',
    'chord^2 / (8 sag) + sag / 2, + convex downward; none where it is straight.',
  ),
  radiusFitMm: define(
    'rock-radius-least-squares',
    `Radius of the least-squares arc of the line over its chord, ${LINE}.`,
  ),
  lowPointMm: define(
    'low-point-bearing-line',
    'Where the bearing line, flare and relief left out, is level, behind the front tip edge.',
  ),
  twistDeg: define(
    'twist-20-to-80-percent',
    'Slope at 20 % of overall length less slope at 80 %; + flatter at the rear.',
  ),
  twistDegPer100Mm: define('twist-per-100-mm', 'That twist over the distance between the two stations, for 100 mm.'),
});

export type MeasuredFigure = keyof typeof MEASURE_DEFINITIONS;
