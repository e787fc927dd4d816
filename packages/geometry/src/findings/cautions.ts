/** Something the tool must say beside its figures: on screen, on paper and in files. */
export interface Caution {
  readonly id: string;
  /** A few words, for a quiet line. */
  readonly short: string;
  readonly full: string;
}

/** All of them, in the order they are printed. Common practice of the trade, no source, unless a figure names one. */
export const CAUTIONS: readonly Caution[] = Object.freeze([
  {
    id: 'shapes-only',
    short: 'Compares shapes; it does not examine a horse.',
    full: 'This compares two shapes. It does not examine a horse and knows nothing of pain, soundness, muscle tone or behaviour. The last word on fit belongs to a qualified saddle fitter, on the horse, ridden. With pain, swelling, heat, white hairs, lameness or a sudden change, call a veterinarian first.',
  },
  {
    id: 'one-day',
    short: 'The back is one horse, standing, on one day.',
    full: 'The surface was taken standing, on one day, by the person named in the record and with the uncertainty stated there. Horses change with work, age and season, and a moving back differs from a standing one. Measure again before the record is old.',
  },
  {
    id: 'relative-pressure',
    short: 'Pressures are relative estimates.',
    full: 'Pressures follow from an assumed soft tissue, pad and load, all printed with the result. Read them against each other: closer or further, more or less. They are never a verdict on a horse.',
  },
  {
    id: 'capacity',
    short: 'Capacity is tree bearing on this surface, not permission for a rider of that weight.',
    full: 'Capacity figures are tree bearing on this surface, not permission for a rider of that weight. What a horse may carry depends on its own weight, fitness, age, loin, limbs, ground, pace and time. Welfare law, venue rules and weight policies are local and come before anything here.',
  },
  {
    id: 'strength',
    short: 'Strength of the tree is not looked at.',
    full: 'Whether fork, horn, rigging and tips hold, and what roping loads and girth hardware do to them, is not worked out here. A tree whose shape suits a back can still break: have it tested or engineered separately.',
  },
  {
    id: 'flexible-tips',
    short: 'Flexible parts rest on assumed stiffness and temperature.',
    full: 'Results with flexible tips or bars rest on an assumed stiffness, temperature and thickness. Creep is an assumed curve, fatigue and damping are not modelled.',
  },
  {
    id: 'missing-data',
    short: 'Where the back was not measured, nothing is filled in.',
    full: 'Places without data are left blank or hatched and kept out of every total; the share left out is printed. Anything continued past the last measured station is marked as such.',
  },
  {
    id: 'trying-out',
    short: 'Do not try a prototype alone.',
    full: 'Do not ride to try out a prototype without a qualified person present. Have a competent helper hold the horse: whoever measures behind the shoulder stands within reach of teeth and hooves.',
  },
  {
    id: 'consent',
    short: "A client's horse record is private.",
    full: "Do not publish a client's horse record without consent. Owner data stay out of exports unless they are asked for.",
  },
  {
    id: 'shop',
    short: 'Measure the check bar before cutting.',
    full: 'Measure the check bar on every print before cutting anything from it. Machine work needs precautions of its own.',
  },
]);
