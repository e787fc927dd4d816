import type { BackSurface } from '../back/index.ts';
import { type Tree, treeLengthMm } from '../bar/index.ts';
import { layerWords } from '../layers/index.ts';
import { SETUP_DEFAULTS, type Setup } from '../seating/index.ts';
import { withBearingLineAt, withFlare, withLength, withRock, withStationSlopes } from './alter-tree.ts';
import type { CauseName } from './fit-result.ts';
import {
  BEARING_LINE_MM,
  fitSlopes,
  fittedFlare,
  fittedRock,
  fittedSetPosition,
  type SlopeFit,
  usableBarLength,
} from './fitted-values.ts';
import { mirrorMeanBack } from './mirror-mean-back.ts';
import type { Reading } from './reading.ts';

/** What is seated: change one of these and seat again. */
export interface Situation {
  readonly tree: Tree;
  readonly back: BackSurface;
  readonly setup: Setup;
}

/** A value that differs from the back's own fitted one, and how to set it there. */
export interface Suspect {
  readonly name: CauseName;
  /** "the bar's rock is flatter than this back's (radius 1750 mm against 1150 mm)" */
  readonly because: string;
  fit(situation: Situation): Situation;
}

/** Values nearer to their fitted one than this are not suspected. */
const TOLERANCE = Object.freeze({
  lengthMm: 12,
  /** Difference of sag over the bearing chord. */
  sagMm: 0.5,
  slopeRad: (0.75 * Math.PI) / 180,
  spreadMm: 4,
  flareMm: 2,
  setPositionMm: 2,
  loadPercent: 1,
  asymmetryMm: 1,
});

/** Everything that could be to blame, in the order of DESIGN 4. */
export function listSuspects(reading: Reading): Suspect[] {
  return [
    suspectLength(reading),
    suspectRock(reading),
    ...suspectSlopes(reading),
    suspectSpread(reading),
    suspectFlare(reading),
    suspectSetPosition(reading),
    suspectLoadPosition(reading),
    suspectLayers(reading),
    suspectAsymmetry(reading),
  ].filter((s) => s !== null);
}

const DEGREES = 180 / Math.PI;

function suspectLength({ seated: { tree, back, setup } }: Reading): Suspect | null {
  const own = treeLengthMm(tree);
  const fitted = usableBarLength(tree, back, setup);
  const least = tree.right.shape.flareZoneFrontMm + tree.right.shape.flareZoneRearMm + 50;
  if (Math.abs(own - fitted) <= TOLERANCE.lengthMm || fitted < least) return null;
  return {
    name: 'length',
    because: `the bars are ${own > fitted ? 'longer' : 'shorter'} than this back's usable length (${own.toFixed(0)} mm against ${fitted.toFixed(0)} mm)`,
    fit: (s) => ({ ...s, tree: withLength(s.tree, usableBarLength(s.tree, s.back, s.setup)) }),
  };
}

function suspectRock({ seated: { tree, back, setup } }: Reading): Suspect | null {
  const fitted = fittedRock(tree, back, setup.setPositionMm);
  const own = tree.right.shape.rockCurvaturePerMm;
  const { flareZoneFrontMm, flareZoneRearMm, lengthMm } = tree.right.shape;
  const chord = lengthMm - flareZoneFrontMm - flareZoneRearMm;
  if (fitted === null || (Math.abs(own - fitted) * chord * chord) / 8 <= TOLERANCE.sagMm) return null;
  return {
    name: 'rock',
    because: `the bar's rock is ${own < fitted ? 'flatter' : 'rounder'} than this back (radius ${radius(own)} against ${radius(fitted)})`,
    fit: (s) => {
      const again = fittedRock(s.tree, s.back, s.setup.setPositionMm);
      return again === null ? s : { ...s, tree: withRock(s.tree, again) };
    },
  };
}

const radius = (curvature: number): string =>
  Math.abs(curvature) < 1e-5 ? 'without end' : `${(1 / curvature).toFixed(0)} mm`;

function suspectSlopes(reading: Reading): Suspect[] {
  const fit = fitSlopes(reading);
  if (fit === null) return [];
  const out: Suspect[] = [];
  const add = (name: CauseName, addRad: readonly number[], because: string): void => {
    if (Math.max(...addRad.map(Math.abs)) <= TOLERANCE.slopeRad) return;
    out.push({ name, because, fit: (s) => ({ ...s, tree: withStationSlopes(s.tree, addRad) }) });
  };
  add('slope front', fit.frontRad, `the front slopes differ from this back (${tellSlopes(fit, fit.frontRad)})`);
  add('slope rear', fit.rearRad, `the rear slopes differ from this back (${tellSlopes(fit, fit.rearRad)})`);
  const twist = (-fit.twistRad[0]! + fit.twistRad[fit.twistRad.length - 1]!) * DEGREES;
  const more = twist > 0 ? 'more' : 'less';
  const words = `the bar twists ${Math.abs(twist).toFixed(1)} degrees ${more} than this back's slope changes`;
  add('twist', fit.twistRad, words);
  return out;
}

/** "front 6.5, waist 10.4 degrees steeper" over the stations that the change touches. */
function tellSlopes(fit: SlopeFit, addRad: readonly number[]): string {
  return fit.names
    .map((name, i) => ({ name, by: fit.mismatchRad[i]! * DEGREES, touched: Math.abs(addRad[i]!) > 1e-3 }))
    .filter((s) => s.touched)
    .map((s) => `${s.name} ${Math.abs(s.by).toFixed(1)} degrees ${s.by > 0 ? 'steeper' : 'flatter'}`)
    .join(', ');
}

function suspectSpread({ seated: { tree } }: Reading): Suspect | null {
  const off = tree.right.shape.stations.map((s) => s.spreadMm / 2 + s.bearingInsetMm - BEARING_LINE_MM);
  const mean = off.reduce((a, b) => a + b, 0) / off.length;
  if (Math.max(...off.map(Math.abs)) <= TOLERANCE.spreadMm / 2) return null;
  return {
    name: 'spread',
    because: `the spread carries the bars ${Math.abs(mean).toFixed(0)} mm ${mean > 0 ? 'outside' : 'inside'} the bearing line`,
    fit: (s) => ({ ...s, tree: withBearingLineAt(s.tree, BEARING_LINE_MM) }),
  };
}

function suspectFlare(reading: Reading): Suspect | null {
  const { flareLiftFrontMm, flareLiftRearMm } = reading.seated.tree.right.shape;
  const { frontMm, rearMm } = fittedFlare(reading);
  const front = frontMm - flareLiftFrontMm > TOLERANCE.flareMm;
  const rear = rearMm - flareLiftRearMm > TOLERANCE.flareMm;
  if (!front && !rear) return null;
  const parts = [
    ...(front ? [`front lift ${flareLiftFrontMm.toFixed(0)} mm where ${frontMm.toFixed(0)} mm would clear`] : []),
    ...(rear ? [`rear lift ${flareLiftRearMm.toFixed(0)} mm where ${rearMm.toFixed(0)} mm would clear`] : []),
  ];
  return {
    name: 'flare',
    because: `the tips are lifted too little to clear (${parts.join(', ')})`,
    fit: (s) => ({ ...s, tree: withFlare(s.tree, frontMm, rearMm) }),
  };
}

function suspectSetPosition({ seated: { tree, back, setup } }: Reading): Suspect | null {
  const fitted = fittedSetPosition(tree, back, setup);
  const by = setup.setPositionMm - fitted;
  if (Math.abs(by) <= TOLERANCE.setPositionMm) return null;
  return {
    name: 'set position',
    because: `the tree is set ${Math.abs(by).toFixed(0)} mm too far ${by > 0 ? 'back' : 'forward'} for its front bearing to begin ${setup.rules.frontBearingFromMm} to ${setup.rules.frontBearingToMm} mm behind the blade edge`,
    fit: (s) => ({ ...s, setup: { ...s.setup, setPositionMm: fitted } }),
  };
}

function suspectLoadPosition({ seated: { tree, setup } }: Reading): Suspect | null {
  const { at, offsetMm } = setup.load;
  const percent = at === 'seat' ? (100 * tree.parts.seatLowMm) / treeLengthMm(tree) : at;
  const usual = SETUP_DEFAULTS.load.at as number;
  if (Math.abs(percent - usual) <= TOLERANCE.loadPercent && offsetMm === 0) return null;
  const aside =
    offsetMm === 0 ? '' : ` and ${Math.abs(offsetMm).toFixed(0)} mm to the ${offsetMm > 0 ? 'right' : 'left'}`;
  return {
    name: 'load position',
    because: `the load stands at ${percent.toFixed(0)} % of the bar${aside}, against ${usual} %`,
    fit: (s) => ({ ...s, setup: { ...s.setup, load: { ...s.setup.load, at: usual, offsetMm: 0 } } }),
  };
}

function suspectLayers({ seated: { setup } }: Reading): Suspect | null {
  const usual = SETUP_DEFAULTS.layers;
  const same =
    setup.layers.length === usual.length && setup.layers.every((l, i) => layerWords(l) === layerWords(usual[i]!));
  if (same) return null;
  return {
    name: 'layers',
    because: `the layers are ${setup.layers.map((l) => `${l.name} ${layerWords(l)}`).join('; ')} and not the usual ones`,
    fit: (s) => ({ ...s, setup: { ...s.setup, layers: usual } }),
  };
}

function suspectAsymmetry({ seated: { back, samples, seat } }: Reading): Suspect | null {
  let most = 0;
  const from = seat.pose.xMm + samples.frontTipXMm;
  for (let i = 0; i <= 30; i++) {
    const x = from + (i * samples.lengthMm) / 30;
    for (const y of [60, 90, 120, 150, 180]) {
      const by = Math.abs(back.heightMm(x, y) - back.heightMm(x, -y));
      if (by > most) most = by;
    }
  }
  if (most <= TOLERANCE.asymmetryMm) return null;
  return {
    name: 'asymmetry',
    because: `left and right of this back differ by up to ${most.toFixed(0)} mm`,
    fit: (s) => ({ ...s, back: mirrorMeanBack(s.back) }),
  };
}
