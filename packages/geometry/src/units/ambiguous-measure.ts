import { InputError } from '../numeric/input-error.ts';

export interface MeasureChoice {
  /** What is stored as the answer. */
  readonly id: string;
  readonly meaning: string;
}

/** A trade word that makers use for different things. Never guessed: the question is put and the answer is kept. */
export interface MeasureQuestion {
  readonly measure: string;
  readonly question: string;
  readonly choices: readonly MeasureChoice[];
}

/** Where makers disagree: common practice, no source. */
export const AMBIGUOUS_MEASURES: readonly MeasureQuestion[] = [
  {
    measure: 'gulletWidth',
    question: 'Where was the gullet width taken?',
    choices: [
      { id: 'at fork front', meaning: 'between the inner edges of the bars at the front of the fork' },
      { id: 'at hand hole', meaning: 'between the inner edges of the bars at the hand hole: the bar spread' },
      {
        id: 'between finished-leather rosettes',
        meaning: 'on the covered saddle, between the leather faces; kept as a note, the leather is not modelled',
      },
      { id: 'at gullet mid-height', meaning: 'across the tunnel at half its height; kept as a note' },
    ],
  },
  {
    measure: 'twist',
    question: 'Bar twist or seat waist width?',
    choices: [
      { id: 'bar twist', meaning: 'slope at the front pad less slope at the rear pad: set slopeFront and slopeRear' },
      { id: 'seat waist width', meaning: "how narrow the rider's seat is; no part of the underside" },
    ],
  },
  {
    measure: 'rock',
    question: 'Rock as a radius, or as a rise over which chord?',
    choices: [
      { id: 'radius', meaning: 'radius of the arc along the bearing line: set rockRadius' },
      {
        id: 'rise over a chord',
        meaning: 'rise s of the ends of a chord c: set rockRadius to c^2/(8 s) + s/2, with the chord measured',
      },
    ],
  },
  {
    measure: 'crown',
    question: 'Crown crosswise at a station, or lengthwise?',
    choices: [
      {
        id: 'crosswise',
        meaning: 'convexity across the bar in a station plane: set crownFront, crownWaist, crownRear',
      },
      { id: 'lengthwise', meaning: 'convexity along the bar, which is called rock here: set rockRadius' },
    ],
  },
  {
    measure: 'barAngle',
    question: 'Angle between the two bars, or slope of one bar?',
    choices: [
      { id: 'included', meaning: 'between the two undersides: set slopeFront to 90 deg less half of it' },
      { id: 'slope', meaning: 'one underside below horizontal: set slopeFront' },
    ],
  },
];

const OTHER_WORDS: Readonly<Record<string, string>> = {
  gulletwidth: 'gulletWidth',
  gullet: 'gulletWidth',
  twist: 'twist',
  narrowtwist: 'twist',
  rock: 'rock',
  rocker: 'rock',
  sag: 'rock',
  crown: 'crown',
  angle: 'barAngle',
  barangle: 'barAngle',
  includedangle: 'barAngle',
};

/** The question behind a word or key ("gullet width", "gulletWidth", "Twist"), or null when the word is clear. */
export function askAboutMeasure(word: string): MeasureQuestion | null {
  if (word.length > 60) return null;
  const plain = word.toLowerCase().replace(/[^a-z]/g, '');
  if (!Object.hasOwn(OTHER_WORDS, plain)) return null;
  return AMBIGUOUS_MEASURES.find((item) => item.measure === OTHER_WORDS[plain]) ?? null;
}

/** The choice of a question with this id, or null. */
export function findChoice(question: MeasureQuestion, id: string): MeasureChoice | null {
  return question.choices.find((choice) => choice.id === id) ?? null;
}

/** The refusal that puts the question: its remedy lists the choices. */
export function ambiguousMeasureError(
  question: MeasureQuestion,
  place: { field?: string; got?: string } = {},
): InputError {
  const choices = question.choices.map((choice) => `"${choice.id}" (${choice.meaning})`).join('; ');
  return new InputError({
    code: 'ambiguous',
    field: place.field ?? question.measure,
    ...(place.got === undefined ? {} : { got: place.got }),
    expected: 'a measure with one meaning',
    remedy: `${question.question} ${choices}`,
  });
}
