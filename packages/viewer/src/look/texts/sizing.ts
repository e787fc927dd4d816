/** Sizing: rider and shelf, the table of trees, the tree touched, and the answer. */
export const SIZING_TEXTS = {
  answer: {
    looking: (range: string) => `Seats for this rider: ${range}. Looking for the closest of them…`,
    closest: 'Closest of this shelf:',
    noFinding: 'No finding in any of its cases.',
    furthest: (words: string, times: string, at: string | null) =>
      `Furthest over its rule: ${words}, ${times} times, at ${at}.`,
    leastOf: (count: number, range: string) =>
      `Least of the ${count} trees with this rider’s seats, ${range}. Not a verdict: look at every case.`,
    nothingNear: 'Nothing on this shelf is near this back',
    allFar: (range: string, times: number) =>
      `with this rider’s seats, ${range}: every one is more than ${times} times over a rule, or has no result.`,
    noSeat: (range: string) => `: it has no seat for this rider, ${range}.`,
    range: (from: string, to: string) => `${from} to ${to} in (from memory, no source)`,
    rangeBeyond: (from: string, to: string) =>
      `${from} to ${to} in (from memory, no source; beyond the table, its nearest row)`,
  },
  run: { unit: 'trees', note: 'the rider’s seats first' },
  form: {
    rider: 'Rider',
    mass: 'Mass',
    gear: 'Gear',
    thigh: 'Thigh',
    riding: 'Riding',
    shelf: 'Shelf',
    open: 'Open rider or shelf',
    files: 'Rider and shelf files',
    on: 'on',
  },
  shelf: {
    counts: (seats: number, widths: number, tips: number) => `${seats} seats, ${widths} widths, ${tips} tips`,
    from: (pattern: string, barLength: string, seats: string) =>
      `From ${pattern}; bar length ${barLength}; seats ${seats}.`,
    seat: (inches: number) => `${inches} in`,
    bars: (bars: string) => `${bars} bars`,
    layer: (label: string, mm: number | undefined, kPaPerMm: number | undefined) =>
      `${label} (${mm} mm, ${kPaPerMm} kPa/mm)`,
    noPads: 'No pads of its own: the setup’s layers.',
    pads: (layers: string) => `Pads: ${layers}; the first is used.`,
    skirts: (layers: string) => `Skirts: ${layers}.`,
    missing: 'the pattern that this shelf names',
    openBoth: (shelf: string, pattern: string) => `Open ${shelf} and ${pattern} together.`,
  },
  table: {
    label: 'Trees of this shelf',
    caption: (times: number) =>
      `Worst finding of all cases, times its rule; most 95th percentile (p95); weight of rider, gear and saddle at which the first limit is met, with the pad / without. Bar: 0 to ${times} times the rule, tick at 1.`,
    seat: 'Seat',
    tips: 'Tips',
    own: 'for this rider',
    shorter: 'shorter than this rider’s',
    longer: 'longer than this rider’s',
    waiting: 'not yet',
    closest: 'closest of this shelf',
    p95: 'p95',
    bears: 'bears',
  },
  tree: {
    waiting: (name: string) => `${name}: not worked out yet.`,
    label: 'Tree shown',
    put: 'Put it on the bench',
    lies: 'It lies on the bench; one undo takes it off again.',
    brings:
      'Also sets the rider’s weight with gear, the load in the seat and the shelf’s layers. Set position, legs, load factor and limits stay.',
    bar: 'Bar',
    room: '; this back has room for',
    cases: 'Every case',
    mean: 'mean',
    p95: ', p95',
    peak: ', peak',
    noFinding: 'no finding',
    noResult: (status: string) => `no result: ${status}`,
    closest: 'Closest of this shelf: no finding in any case. That is not a verdict.',
    closestOver: (words: string, times: string, at: string | null) =>
      `Closest of this shelf: least over its rules of this rider's seats. Furthest over: ${words}, ${times} times, at ${at}.`,
    compared: 'Compared when all of the rider’s seats are done.',
    otherSeat: 'Not one of this rider’s seats.',
  },
  bearing: {
    title: 'Tree bearing',
    withPad: (pad: string) => `with ${pad}`,
    withoutPad: 'without a pad',
    ruleOfThumb: 'rule of thumb',
    rider: 'this rider, gear and saddle, times the setup’s load factor',
    limits: { mean: 'mean first', p95: '95th percentile first', peak: 'peak first' },
    noLimit: 'no limit met in the range looked at',
  },
  held: {
    title: 'Pressure held without a pause',
    label: (short: string, long: string) =>
      `Pressure that killed rat muscle: ${short} held up to one hour, ${long} from two hours on`,
    labelTree: (p95: string) => `; this tree's 95th percentile in its worst case is ${p95}`,
    hours: 'hours held',
    tree: (p95: string) => `this tree, p95 at most ${p95}`,
    dashed: 'Dashed: our own join.',
  },
} as const;
