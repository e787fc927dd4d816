import { type FindingCode, observeAll, type Reading } from '../findings/index.ts';
import type { Setup } from '../seating/index.ts';

/** How far each finding is over its rule, or on the way there: 1 just meets it. Below LEAST_RATIO nothing is said. */
export type RuleRatios = Readonly<Partial<Record<FindingCode, number>>>;

/** Half a rule: nearer than that is not looked at. */
export const LEAST_RATIO = 0.5;

const HAND_MM = 101.6;

/**
 * Ratios of one reading by finding, from LEAST_RATIO up, so that a map can be drawn through 1. The same finders read the
 * same seating against rules half as wide; what they say is turned back into the rules in use.
 */
export function ruleRatios(reading: Reading): RuleRatios {
  if (reading.seated.status === 'no contact') return {};
  const ratios: Partial<Record<FindingCode, number>> = {};
  for (const { code, ratio } of observeAll(byHalfRules(reading))) {
    ratios[code] = Math.max(ratios[code] ?? LEAST_RATIO, backToRule(code, ratio));
  }
  return ratios;
}

/** Furthest over its rule, or nearest to it; null where nothing comes within half of its rule. */
export function furthest(ratios: RuleRatios): { readonly code: FindingCode; readonly ratio: number } | null {
  let most: { code: FindingCode; ratio: number } | null = null;
  for (const [code, ratio] of Object.entries(ratios) as [FindingCode, number][]) {
    if (most === null || ratio > most.ratio) most = { code, ratio };
  }
  return most;
}

/** The same figures read against rules half as wide: none of them depends on a rule. */
function byHalfRules(reading: Reading): Reading {
  const { seated, laidOn } = reading;
  const setup = halfRules(seated.setup);
  return {
    seated: { ...seated, setup },
    laidOn,
    rules: setup.rules,
    get contact() {
      return reading.contact;
    },
    get mismatch() {
      return reading.mismatch;
    },
    get spine() {
      return reading.spine;
    },
  };
}

function halfRules(setup: Setup): Setup {
  const { rules, limits } = setup;
  return {
    ...setup,
    limits: { ...limits, peakKPa: limits.peakKPa * LEAST_RATIO },
    rules: {
      ...rules,
      lengthwiseMm: rules.lengthwiseMm * LEAST_RATIO,
      slopeDeg: rules.slopeDeg * LEAST_RATIO,
      edgeSharePercent: rules.edgeSharePercent * LEAST_RATIO,
      pressurePointTimesMean: rules.pressurePointTimesMean * LEAST_RATIO,
      tipSqueezeMm: rules.tipSqueezeMm * LEAST_RATIO,
      solidSharePercent: rules.solidSharePercent * LEAST_RATIO,
      overFlexMm: rules.overFlexMm * LEAST_RATIO,
      offDataPercent: rules.offDataPercent * LEAST_RATIO,
      // These two count what is left beside the rule, not in shares of it.
      pastRibMm: rules.pastRibMm - HAND_MM * LEAST_RATIO,
      spineForkMm: rules.spineForkMm * (1 + LEAST_RATIO),
      spineAlongMm: rules.spineAlongMm * (1 + LEAST_RATIO),
      spineChannelMm: rules.spineChannelMm * (1 + LEAST_RATIO),
    },
  };
}

function backToRule(code: FindingCode, ratio: number): number {
  if (code === 'past-last-rib') return ratio - LEAST_RATIO;
  // 1 + (rule' - room) / rule' with rule' = 1.5 rule.
  if (code === 'low-spine-clearance') return 2 - (1 + LEAST_RATIO) * (2 - ratio);
  return ratio * LEAST_RATIO;
}
