/** Reach: how far a back may differ before the tree on the bench shows a finding, on screen and on the sheet. */
export const REACH_TEXTS = {
  around: 'around',
  unit: 'backs and places',
  save: 'Save the map as it is printed',
  map: {
    label: 'Reach map; left and right change the slope of the back, up and down its curve',
    nothing: 'nothing within half of its rule',
    times: (words: string) => `times its rule: ${words}`,
  },
  positions: {
    title: 'Set positions, further forward or back, on the back as measured',
    leave: 'The rules leave',
    eitherWay: 'either way.',
  },
  node: {
    noResult: (status: string) => `no result: ${status}`,
    noFinding: 'no finding, none within half of its rule',
    times: (finding: string, ratio: string) => `${finding} ${ratio} times its rule`,
    nearest: (times: string) => `no finding; nearest is ${times}`,
  },
  place: {
    measured: 'the back as measured',
    back: (slope: string, curve: string) => `a back ${slope}, ${curve}`,
    sameSlope: 'same slope',
    steeper: (degrees: string) => `${degrees}° steeper`,
    flatter: (degrees: string) => `${degrees}° flatter`,
    sameCurve: 'same curve',
    moreSag: (length: string) => `${length} more sag over the bearing length`,
    lessSag: (length: string) => `${length} less sag over the bearing length`,
  },
  sheet: {
    inSeat: 'in the seat',
    atPercent: (percent: number) => `at ${percent} % of the bar`,
    rulesBy: 'those of the setup, working values of ours where not changed',
  },
} as const;
