/** The shoulder over a stride: its player, figures and curves, and what would clear the tip. */
export const SHOULDER_TEXTS = {
  player: {
    play: 'Play',
    pause: 'Pause',
    back: 'Step back',
    step: 'Step',
    phase: 'Phase of the stride',
    none: 'no stride yet',
    at: (phase: number, of: number, left: string, right: string) =>
      `phase ${phase} of ${of}: left blade ${left} back, right blade ${right} back`,
    calm: 'This device asks for little motion: the stride goes in steps only.',
  },
  picture: {
    older: 'Older values.',
    at: (phase: number, of: number, left: string, right: string) =>
      `Stride, phase ${phase} of ${of}: left blade ${left} back, right blade ${right} back`,
    bladeLeft: 'left shoulder blade',
    bladeRight: 'right shoulder blade',
    rib: 'last rib',
  },
  running: {
    laying: 'Laying tree and back out…',
    coarse: (done: number, of: number) => `First look: phase ${done} of ${of}`,
    full: (done: number, of: number) => `In full: phase ${done} of ${of}`,
    howFar: 'How far the stride is',
    cancel: 'Cancel',
    again: 'Run the stride',
    finished: 'the stride to be finished',
  },
  worst: {
    least: 'Least clearance:',
    at: (side: string, phase: number, of: number) => `at the ${side} tip edge, phase ${phase} of ${of}`,
    standing: (gap: string) => `; standing ${gap}`,
    coarse: '(first look: fewer phases, coarser grid)',
    mostLeft: 'Most under the tips: left',
    mostRight: ', right',
    note: 'Over one stride, 0 to 1; clearance to the top of the pad at rest, + clear, − squeeze. The last figure: bearing line, from the tip edge back, standing and at the worst phase.',
  },
  load: {
    carried: 'Load check: carried',
    applied: ', applied',
    furthest: (percent: string) => `where they are furthest apart (by ${percent} %)`,
    unsettled: (count: number) => `; ${count} phases did not settle, their figures are the last step’s`,
  },
  assumed: {
    average: 'assumed, of an average horse (no source)',
    stated: 'as the back states',
    raised: (left: string, right: string, source: string) =>
      `Blade under the skin: raised left ${left}, right ${right} (${source});`,
    swings: (left: string, right: string, source: string) => `swings back left ${left}, right ${right} (${source}).`,
    model:
      'Right leg half a stride after the left, as at walk and trot; the blade’s path in time is our own choice. The tree settles anew at every phase, as if it stood still there: no inertia, no muscle, no sliding skin. Shown slower than any horse goes.',
  },
  curves: {
    heights: { inner: 'inner', bearing: 'bearing', outer: 'outer' },
    least: (gap: string) => `least ${gap}`,
    edge: (side: string, unit: string) => `Clearance, ${side} tip edge, ${unit}`,
    edgeLabel: (side: string, least: string, phase: string) =>
      `Clearance at the ${side} tip edge over the stride, at its inner, bearing and outer height; least ${least} at phase ${phase}`,
    pressure: (unit: string) => `Highest pressure under the tips, ${unit}`,
    pressureLabel: (most: string) => `Highest pressure under each tip zone over the stride: ${most}`,
    most: (side: string, pressure: string, phase: string) => `${side} ${pressure} at phase ${phase}`,
    front: (side: string, unit: string) => `Gap along the ${side} bar’s front, ${unit}`,
    frontLabel: (side: string, phase: string) =>
      `Gap along the front 120 mm of the ${side} bar on its bearing line, standing against the worst phase, ${phase} of the stride`,
    standing: 'standing',
    worst: 'worst',
  },
  clears: {
    title: 'What would clear it',
    wanted: 'Wanted at the tip edge, every phase',
    solve: 'Solve the lift',
    cancel: 'Cancel',
    usual: (gap: string) =>
      `${gap} is common practice, no source. Clearance counts to the top of the pad at rest; zone and lift change on both bars.`,
    solving: (zone: number, of: number) => `Solving, zone ${zone} of ${of}…`,
  },
  options: {
    zone: 'Flare zone',
    lift: 'Lift',
    least: 'Least clearance',
    most: 'Most under tip',
    bearing: 'Bearing area',
    contact: 'Contact, standing',
    mean: 'Mean',
    p95: '95th',
    takeIt: 'Take it',
    now: 'now:',
    none: 'no lift that a pattern holds reaches it',
    take: 'Take this',
    which: (zoneMm: number) => `tip, zone ${zoneMm} mm`,
  },
} as const;
