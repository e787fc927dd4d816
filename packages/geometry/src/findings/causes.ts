import { sampleBars } from '../bar/index.ts';
import { type Setup, seatTree, shimTree, withoutShims } from '../seating/index.ts';
import { observeAll } from './finding-table.ts';
import type { Cause, CauseName } from './fit-result.ts';
import type { Observation } from './observation.ts';
import { type Reading, readTree } from './reading.ts';
import { listSuspects, type Situation, type Suspect } from './suspects.ts';

/** Cells of a re-run: sizes stay within a few percent of the full grid's. */
const RERUN_SAMPLES = 2500;
/** A single cause that takes away this share explains its finding; below it pairs are tried. */
const MOST = 0.6;
/** A cause that takes away less than this share is not named. */
const WORTH_NAMING = 0.1;
/** A pair is named where it takes away this much more than the better of its two. */
const PAIR_GAIN = 0.2;
/** Shares nearer than this are told apart by what they do to all findings together. */
const TIE = 0.12;
/** Suspects that go into pairs. */
const PAIR_CANDIDATES = 5;

/** A cause with its words, for the sentence. */
export interface ToldCause extends Cause {
  readonly because: string;
}

/** Re-runs of one seating with suspect values fitted, each run once however many findings ask for it. */
export class CauseSearch {
  readonly suspects: readonly Suspect[];
  readonly base: Reading;
  private readonly situation: Situation;
  private readonly baseObservations: readonly Observation[];
  private readonly runs = new Map<string, Reading | null>();

  constructor(full: Reading) {
    const { tree, back, setup } = full.seated;
    // Sizes are read as differences between re-runs, so the fast path serves even where the fit itself was exact.
    const coarse: Setup = { ...setup, path: 'fast', samples: Math.min(setup.samples, RERUN_SAMPLES) };
    // As it was measured: causes change the back, and seating lays the shims on again.
    this.situation = { tree, back: withoutShims(back), setup: coarse };
    this.suspects = listSuspects(full);
    this.base = seatAndLay(this.situation);
    this.baseObservations = observeAll(this.base);
  }

  /** Causes of one finding, most telling first. */
  causesOf(finding: Observation): ToldCause[] {
    const atBase = finding.sizeIn(this.base);
    if (atBase === null || !(finding.sizeMm > 0)) return [];
    const singles = this.suspects.flatMap((s) => this.told(finding, atBase, [s]));
    const best = Math.max(0, ...singles.map(removed));
    const pairs = best >= MOST ? [] : this.pairsOf(finding, atBase, singles);
    return [...singles, ...pairs].filter((c) => removed(c) >= WORTH_NAMING).sort((a, b) => this.compare(a, b));
  }

  /** The tree set elsewhere, mm behind the blade edge. */
  atSetPosition(setPositionMm: number): Reading {
    return seatAndLay({ ...this.situation, setup: { ...this.situation.setup, setPositionMm } });
  }

  private pairsOf(finding: Observation, atBase: number, singles: readonly ToldCause[]): ToldCause[] {
    const far = [...singles].sort((a, b) => Math.abs(removed(b)) - Math.abs(removed(a))).slice(0, PAIR_CANDIDATES);
    const candidates = this.suspects.filter((s) => far.some((c) => c.cause === s.name));
    const out: ToldCause[] = [];
    for (const [i, first] of candidates.entries()) {
      for (const second of candidates.slice(i + 1)) {
        if (overlap(first.name, second.name)) continue;
        for (const pair of this.told(finding, atBase, [first, second])) {
          const alone = Math.max(...far.filter((c) => pair.names.includes(c.names[0]!)).map(removed), 0);
          if (removed(pair) >= MOST && removed(pair) - alone >= PAIR_GAIN) out.push(pair);
        }
      }
    }
    return out.sort((a, b) => this.compare(a, b)).slice(0, 2);
  }

  /** Sizes are read on the coarse grid and carried over as a difference from the coarse base. */
  private told(finding: Observation, atBase: number, suspects: readonly Suspect[]): ToldCause[] {
    const reading = this.run(suspects);
    const again = reading === null ? null : finding.sizeIn(reading);
    if (again === null) return [];
    const names = suspects.map((s) => s.name);
    return [
      {
        cause: names.join(' + '),
        names,
        sizeMm: finding.sizeMm,
        sizeWithoutMm: finding.sizeMm + again - atBase,
        because: suspects.map((s) => s.because).join(' and '),
      },
    ];
  }

  private run(suspects: readonly Suspect[]): Reading | null {
    const key = suspects.map((s) => s.name).join('+');
    const known = this.runs.get(key);
    if (known !== undefined) return known;
    const fitted = suspects.reduce((situation, s) => s.fit(situation), this.situation);
    const reading = seatAndLay(fitted);
    const usable = reading.seated.status === 'no contact' ? null : reading;
    this.runs.set(key, usable);
    return usable;
  }

  /** By what is taken away; near ties by what is left of all findings. */
  private compare(a: ToldCause, b: ToldCause): number {
    const by = removed(b) - removed(a);
    if (Math.abs(by) > TIE) return by;
    return this.leftOver(a.names) - this.leftOver(b.names) || by;
  }

  /** Sum over all findings, of the base and new ones, of what is left, each relative to its rule. */
  private leftOver(names: readonly CauseName[]): number {
    const reading = this.runs.get(names.join('+')) ?? this.base;
    let sum = 0;
    for (const o of this.baseObservations) {
      const again = o.sizeIn(reading);
      if (again !== null && o.sizeMm > 0) sum += (o.ratio * Math.abs(again)) / o.sizeMm;
    }
    const known = new Set(this.baseObservations.map((o) => o.code));
    for (const o of observeAll(reading)) if (!known.has(o.code)) sum += o.ratio;
    return sum;
  }
}

/** Share of a finding that goes when the cause is fitted; less where it turns into the opposite. */
function removed(cause: Cause): number {
  return 1 - Math.abs(cause.sizeWithoutMm) / cause.sizeMm;
}

/** Twist is made of both slopes: fitting it beside one of them would count a change twice. */
function overlap(a: CauseName, b: CauseName): boolean {
  const slopes = ['slope front', 'slope rear'];
  return (a === 'twist' && slopes.includes(b)) || (b === 'twist' && slopes.includes(a));
}

/** Settles and lays on a situation. */
export function seatAndLay({ tree, back, setup }: Situation): Reading {
  const { left, right } = shimTree(tree, setup);
  const samples = sampleBars(left, right, { samples: setup.samples });
  const seated = seatTree(tree, back, setup, { samples });
  return readTree(seated, seatTree(tree, back, setup, { laidOn: true, samples }));
}
