import type { GiveFigures } from './give-figures.ts';
import type { LoadedShape } from './loaded-shape.ts';

/** A change of the included angle below what a good hand repeats is none (TRADE 2: about 2 degrees). */
const LEAST_ANGLE_DEG = 1;
/** Less than what the sentence prints is nothing shed. */
const LEAST_SHED_N = 1;

/**
 * Three sentences on what flexible bars do to this pair and what not, from its own numbers. No verdict.
 * @param bridgesFromMm laid-on mismatch from which a tree bridges (setup.rules.lengthwiseMm)
 */
export function giveSentences(
  rigid: GiveFigures,
  flexible: GiveFigures,
  shape: LoadedShape,
  bridgesFromMm: number,
): string[] {
  return [tipSentence(rigid, flexible), middleSentence(rigid, flexible, bridgesFromMm), coreSentence(shape)];
}

const newtons = (n: number): string => `${n.toFixed(0)} N`;
const signed = (n: number): string => {
  const whole = Math.round(n);
  return whole === 0 ? '0 N' : `${whole > 0 ? '+' : ''}${whole} N`;
};
const loadIn = ({ zones }: GiveFigures, part: string): number =>
  zones.filter(({ name }) => name.includes(part)).reduce((sum, { loadN }) => sum + loadN, 0);

function tipSentence(rigid: GiveFigures, flexible: GiveFigures): string {
  const [before, after] = [loadIn(rigid, 'tip'), loadIn(flexible, 'tip')];
  const went = ["fork's foot", 'between', "cantle's foot"].map(
    (part) =>
      `${part === 'between' ? 'the bars between' : part} ${signed(loadIn(flexible, part) - loadIn(rigid, part))}`,
  );
  const shed = before - after;
  const fate =
    shed >= LEAST_SHED_N
      ? 'what they shed is not gone but carried elsewhere'
      : 'they shed nothing; the other parts change by';
  return `The tips carry ${newtons(after)} instead of ${newtons(before)}; ${fate}: ${went.join(', ')}.`;
}

function middleSentence(rigid: GiveFigures, flexible: GiveFigures, bridgesFromMm: number): string {
  if (rigid.middleGapMm === null || flexible.middleGapMm === null)
    return 'The middle of the bars has no data beneath it.';
  const change = flexible.middleGapMm - rigid.middleGapMm;
  const place = (gap: number): string => `${Math.abs(gap).toFixed(1)} mm ${gap > 0 ? 'clear' : 'squeezed'}`;
  const moved = `Under load the middle is ${place(flexible.middleGapMm)} instead of ${place(rigid.middleGapMm)}, ${Math.abs(change).toFixed(1)} mm ${change > 0 ? 'higher' : 'lower'}`;
  const bridges = rigid.lengthwiseMm !== null && rigid.lengthwiseMm > bridgesFromMm;
  return bridges
    ? `${moved}; as made it bridges by ${rigid.lengthwiseMm!.toFixed(1)} mm, and bending does not fix bridging.`
    : `${moved}.`;
}

function coreSentence({ angleChangeDeg, twistDeg, twistLoadedDeg }: LoadedShape): string {
  const way = angleChangeDeg >= 0 ? 'wider' : 'narrower';
  const twist =
    twistDeg === null || twistLoadedDeg === null
      ? ''
      : ` and the twist goes from ${twistDeg.toFixed(1)} to ${twistLoadedDeg.toFixed(1)} degrees`;
  const stays = Math.abs(angleChangeDeg) < LEAST_ANGLE_DEG ? ': a tree of the wrong angle stays one' : '';
  return `Under load the included angle is at most ${Math.abs(angleChangeDeg).toFixed(2)} degrees ${way} at any station${twist}${stays}.`;
}

/** What the model leaves out, and where it leaves its range. */
export function limitSentence({ flex }: GiveFigures): string {
  const beyond = flex?.bars.some(({ tips }) => tips.some(({ beyondLinear }) => beyondLinear)) === true;
  const range = beyond
    ? ' Some tip bends by more than a tenth of its free length: the linear shell is leaving its range.'
    : '';
  return `Stiffness, temperature and thickness are assumed; bars are a linear shell; fatigue and damping are not modelled, and fork and cantle are taken as one rigid frame.${range}`;
}
