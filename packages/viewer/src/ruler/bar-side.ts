import { isExpression } from '../card/value-text.ts';
import type { PatternView } from '../state/index.ts';
import { rockOfSag, sagOfRock } from './rock-sag.ts';
import type { BarSide, ShapeLength, ShapeName } from './ShapeHandles.tsx';

const KEYS = { rock: 'rockRadius', flareFront: 'flareLiftFront', flareRear: 'flareLiftRear' } as const;

/** What can be dragged of this pattern, right bar. A value that is written as an expression is left to the card. */
export function barSideOf(view: PatternView): BarSide {
  return { rock: rockOf(view), flareFront: lengthOf(view, 'flareFront'), flareRear: lengthOf(view, 'flareRear') };
}

function lengthOf(view: PatternView, name: 'flareFront' | 'flareRear'): ShapeLength | null {
  const found = rangeOf(view, KEYS[name]);
  const zone = Number(view.values[name === 'flareFront' ? 'flareZoneFront' : 'flareZoneRear']);
  const mm = Number(view.values[KEYS[name]]);
  // Without a zone there is nothing that a lift could turn up.
  return found === null || !(zone > 0) || Number.isNaN(mm) ? null : { mm, minMm: found.min, maxMm: found.max };
}

function rockOf(view: PatternView): BarSide['rock'] {
  const found = rangeOf(view, KEYS.rock);
  const radius = view.values.rockRadius;
  const value = (key: string): number => Number(view.values[key]);
  const chordMm = value('length') - value('flareZoneFront') - value('flareZoneRear');
  if (found === null || radius === undefined || !(chordMm > 0)) return null;
  // The tips have to stay on the arc.
  const leastMm = Math.max(found.min, 0.7 * value('length'));
  const mm = sagOfRock(radius, chordMm);
  if (Number.isNaN(mm)) return null;
  return {
    mm,
    minMm: 0,
    maxMm: Math.max(mm, sagOfRock(leastMm, chordMm)),
    range: { chordMm, leastMm, mostMm: found.max },
    lowPointMm: (value('rockLowPoint') / 100) * value('length'),
  };
}

function rangeOf(view: PatternView, key: string): { min: number; max: number } | null {
  const field = view.fields.find((one) => one.key === key);
  return field === undefined || isExpression(view.written[key] ?? field.default) ? null : field;
}

/** Key and value of the pattern that a dragged or typed length comes to. */
export function shapeChange(
  bar: BarSide,
  name: ShapeName,
  mm: number,
  fromMm: number,
): readonly [string, number | 'flat'] {
  if (name !== 'rock' || bar.rock === null) return [KEYS[name], tidy(mm)];
  const radius = rockOfSag(mm, fromMm, bar.rock.range);
  return [KEYS.rock, radius === 'flat' ? radius : tidy(radius)];
}

/** Thousandths: what comes of pixels needs no more. */
const tidy = (mm: number): number => Math.round(mm * 1000) / 1000;
