import { FINDING_WORDS, type FindingCode } from '../findings/index.ts';
import {
  type BandSource,
  bandEnds,
  type DrawnInput,
  LEAST_DRAWS,
  largestSource,
  type SourceShares,
  sharesOf,
} from './how-sure-bands.ts';
import { LEAST_RATIO, type RuleRatios } from './reach-ratio.ts';

export interface SureFinding {
  readonly code: FindingCode;
  /** Shown by the measurements as they are. */
  readonly isShown: boolean;
  /** Share of the drawn horses that show it. */
  readonly share: number;
  /** Between 5 and 95 of 100: these measurements do not settle it. */
  readonly isOpen: boolean;
  /** Size over its rule, as measured and over the draws; LEAST_RATIO stands for that much or less. */
  readonly ratio: number;
  readonly ratioLow: number;
  readonly ratioHigh: number;
  readonly from: SourceShares;
  /** What narrows it most when measured again; null where it is not open. */
  readonly repeat: BandSource | null;
  readonly sentence: string;
}

export interface FindingDraw {
  readonly ratios: RuleRatios;
  readonly inputs: readonly DrawnInput[];
}

const OPEN_FROM = 0.05;

/** Every finding that is shown or that more than 5 of 100 drawn horses show, commonest first. */
export function sureFindings(here: RuleRatios, draws: readonly FindingDraw[]): SureFinding[] {
  if (draws.length < LEAST_DRAWS) return [];
  const codes = new Set([here, ...draws.map(({ ratios }) => ratios)].flatMap((r) => Object.keys(r) as FindingCode[]));
  return [...codes]
    .map((code) => sureFinding(code, here, draws))
    .filter(({ isShown, share }) => isShown || share > OPEN_FROM)
    .sort((a, b) => b.share - a.share || a.code.localeCompare(b.code));
}

function sureFinding(code: FindingCode, here: RuleRatios, draws: readonly FindingDraw[]): SureFinding {
  const ratio = here[code] ?? LEAST_RATIO;
  const ratios = draws.map((draw) => draw.ratios[code] ?? LEAST_RATIO);
  const share = ratios.filter((r) => r > 1).length / draws.length;
  const isOpen = share > OPEN_FROM && share < 1 - OPEN_FROM;
  const [ratioLow, ratioHigh] = bandEnds(ratios);
  const from = sharesOf(
    ratios,
    draws.map(({ inputs }) => inputs),
  );
  const found = { code, isShown: ratio > 1, share, isOpen, ratio, ratioLow, ratioHigh, from };
  const repeat = isOpen ? largestSource([from]) : null;
  return { ...found, repeat, sentence: sentenceOf({ ...found, repeat }, draws.length) };
}

function sentenceOf(finding: Omit<SureFinding, 'sentence'>, draws: number): string {
  const { code, isShown, share, isOpen, repeat } = finding;
  const name = FINDING_WORDS[code];
  const shown = isShown ? 'the measurements as they are show it' : 'the measurements as they are do not show it';
  const of = `${Math.round(share * draws)} of ${draws} horses drawn from them`;
  if (!isOpen) return `${capital(name)}: ${shown}, and so do ${of}.`;
  const narrow = repeat === null ? '' : ` ${capital(repeatWords(repeat))} would narrow it most.`;
  return `Can't tell from these measurements: ${name}. ${capital(shown)}, but ${isShown ? 'only ' : ''}${of} do.${narrow}`;
}

/** What to do about a source. */
export const repeatWords = (source: BandSource): string =>
  source === 'set position' ? 'marking where the tree is set' : `measuring ${source} again`;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
