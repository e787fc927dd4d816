import { FINDING_WORDS, type FindingCode } from '../findings/index.ts';
import type { Reach, ReachAxis, ReachLimit } from './reach.ts';

/** What a reach map says, in whole sentences. No verdict: it counts findings. */
export function reachSentences(reach: Reach): string[] {
  return [hereSentence(reach), ...rigidSentence(reach), ...limitSentences(reach), ellipseSentence(reach), ASSUMED];
}

const ASSUMED =
  'Other backs are this one made steeper or flatter all along, or more or less curved; hollows, blades and unevenness stay as measured.';

function hereSentence({ tree, back, here, nearest, least }: Reach): string {
  const what = `${tree} on ${back} as measured, by the coarse cells of this map`;
  if (here.ratio === null) return `${what}: no result (${here.status}).`;
  if (here.code === null) return `${what}: no finding, and none within half of its rule.`;
  const ratio = here.ratio.toFixed(1);
  if (here.ratio <= 1)
    return `${what}: no finding; ${FINDING_WORDS[here.code]} comes nearest, at ${ratio} of its rule. That is not a verdict.`;
  const over = `${what}: ${FINDING_WORDS[here.code]} is furthest over its rule, ${ratio} times.`;
  if (nearest === null) return `${over} No node of this map is without findings${leastWords(least)}.`;
  const { slopeDeg, sagMm } = nearest;
  return `${over} The nearest node without findings is a back ${slopeWords(slopeDeg)} and ${sagWords(sagMm)}.`;
}

function leastWords(least: Reach['least']): string {
  if (least === null || least.code === null) return '';
  const where = `a back ${slopeWords(least.slopeDeg)} and ${sagWords(least.sagMm)}`;
  return `; the nearest to none is ${where}, ${FINDING_WORDS[least.code]} at ${least.ratio.toFixed(2)} times its rule`;
}

const slopeWords = (deg: number): string =>
  deg === 0 ? 'of the same slope' : `${Math.abs(deg).toFixed(1)} degrees ${deg > 0 ? 'steeper' : 'flatter'}`;
const sagWords = (mm: number): string =>
  mm === 0
    ? 'of the same curve'
    : `${Math.abs(mm).toFixed(1)} mm ${mm > 0 ? 'more' : 'less'} curved over the bearing length`;

/** How a limit each way is called: the amount, then what it means. */
const AXES: Readonly<Record<ReachAxis, readonly [string, string, string, string]>> = {
  slopeDeg: ['Slope', 'degrees', 'flatter', 'steeper'],
  sagMm: ['Curve', 'mm of sag', 'less', 'more'],
  positionMm: ['Set position', 'mm', 'further forward', 'further back'],
};

function limitSentences({ limits }: Reach): string[] {
  if (limits === null) return [];
  return (Object.keys(AXES) as ReachAxis[]).map((axis) => {
    const [name, unit, less, more] = AXES[axis];
    const [low, high] = limits[axis];
    const say = ({ at, code }: ReachLimit, word: string): string =>
      code === null
        ? `nothing up to ${Math.abs(at).toFixed(0)} ${unit} ${word}`
        : `${wordsOf(code)} from ${Math.abs(at).toFixed(1)} ${unit} ${word}`;
    return `${name} alone: ${say(low, less)}, ${say(high, more)}.`;
  });
}

/** What the give of the bars changes on the map, in the map's own count. */
function rigidSentence({ rigid, freeShare, nodes }: Reach): string[] {
  if (rigid === null) return [];
  const places = (share: number): number => Math.round(share * nodes.length);
  const counted = `no finding at ${places(freeShare)} of ${nodes.length} places with these bars, at ${places(rigid.freeShare)} with rigid ones`;
  if (rigid.meanChange === null) return [`Against rigid bars: ${counted}.`];
  const size = Math.abs(rigid.meanChange);
  const way = rigid.meanChange < 0 ? 'less' : 'more';
  const change = size < 0.005 ? 'the same to a hundredth of its rule' : `${size.toFixed(2)} times its rule ${way}`;
  return [`Against rigid bars: ${counted}; the furthest finding is on average ${change}.`];
}

const wordsOf = (code: FindingCode): string => FINDING_WORDS[code];

function ellipseSentence({ error, back }: Reach): string {
  const { share, draws, slopeSdDeg, sagSdMm, confidence } = error;
  const scale = ellipseScale(confidence);
  const size = `${(scale * slopeSdDeg).toFixed(1)} degrees and ${(scale * sagSdMm).toFixed(1)} mm of sag either way`;
  const drawn = `${draws} horses drawn that ${back}'s measurements could have come from`;
  if (share === null)
    return `The ellipse (${100 * confidence} of 100, ${size}) lies partly where the map has no result.`;
  const count = share <= 0.005 ? 'fewer than 1' : share >= 0.995 ? 'more than 99' : `about ${Math.round(100 * share)}`;
  return (
    `Of ${drawn}, ${count} in 100 lie where this map has no finding, counting slope and curve only. ` +
    `The ellipse holds ${100 * confidence} of 100: ${size}.`
  );
}

/** Half axes of an ellipse that holds this share of a normal in two directions, in standard deviations. */
export const ellipseScale = (confidence: number): number => Math.sqrt(-2 * Math.log(1 - confidence));
