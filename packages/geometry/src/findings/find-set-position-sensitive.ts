import type { CauseSearch } from './causes.ts';
import { FINDING_WORDS } from './find-cannot-tell.ts';
import { observeAll } from './finding-table.ts';
import { mm, type Observation, ruleWords } from './observation.ts';
import type { Reading } from './reading.ts';

/** Shares of the band at which the tree is set again. */
const PLACES = [-1, -0.5, 0.5, 1];

/** Labels that come or go when the tree is set a little further forward or back. */
export function findSetPositionSensitive(reading: Reading, search: CauseSearch): Observation[] {
  const { setPositionMm } = reading.seated.setup;
  const band = reading.rules.setPositionBandMm;
  const own = labels(search.base);
  const flips: { label: Observation['code']; byMm: number; comes: boolean }[] = [];
  for (const share of PLACES) {
    const there = labels(search.atSetPosition(setPositionMm + share * band));
    for (const label of there) if (!own.has(label)) flips.push({ label, byMm: share * band, comes: true });
    for (const label of own) if (!there.has(label)) flips.push({ label, byMm: share * band, comes: false });
  }
  if (flips.length === 0) return [];
  const nearest = Math.min(...flips.map((f) => Math.abs(f.byMm)));
  return [
    {
      code: 'sensitive-to-set-position',
      side: 'both',
      fromMm: setPositionMm - band,
      toMm: setPositionMm + band,
      sizeMm: nearest,
      ratio: 0,
      withinMeasuringError: false,
      sizeIn: () => null,
      rule: ruleWords(reading.rules, `a band of ${mm(band)} either way`),
      say: () => `Sensitive to set position: ${tell(flips)}`,
    },
  ];
}

function labels(reading: Reading): Set<Observation['code']> {
  return new Set(observeAll(reading).map((o) => o.code));
}

/** Names each label once, with the smallest move that changes it. */
function tell(flips: readonly { label: Observation['code']; byMm: number; comes: boolean }[]): string {
  const nearest = new Map<string, (typeof flips)[number]>();
  for (const flip of flips) {
    const key = `${flip.label}${flip.comes}`;
    const known = nearest.get(key);
    if (known === undefined || Math.abs(flip.byMm) < Math.abs(known.byMm)) nearest.set(key, flip);
  }
  return [...nearest.values()]
    .map(({ label, byMm, comes }) => {
      const move = `${mm(Math.abs(byMm))} further ${byMm > 0 ? 'back' : 'forward'}`;
      return `set ${move}, ${FINDING_WORDS[label]} ${comes ? 'appears' : 'goes'}`;
    })
    .join('; ');
}
