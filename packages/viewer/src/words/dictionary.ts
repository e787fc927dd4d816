/** What a stroke of a small drawing stands for; its colour follows. */
export type StrokeKind = 'back' | 'bar' | 'line' | 'dashed' | 'dimension' | 'clear' | 'squeeze' | 'zone';

export interface Drawing {
  /** Paths in a box of 240 by 110. */
  readonly strokes: readonly (readonly [StrokeKind, string])[];
  readonly texts: readonly (readonly [number, number, string])[];
}

export interface TradeWord {
  readonly name: string;
  /** One plain sentence. The trade has no standard words: these are the definitions this bench computes by. */
  readonly means: string;
  /** How the word is found in a label or a sentence. */
  readonly written: RegExp;
  readonly drawing: Drawing;
}

const BACK_LENGTHWISE = 'M10 50Q120 120 230 50';

/** Trade words as they are defined here (TRADE glossary: common practice and proposals, no standard). */
export const WORDS = {
  'bar angle': {
    name: 'Bar angle',
    means:
      'The angle the two undersides enclose at a station, 180 degrees less both slopes: bigger is flatter and wider.',
    written: /\b(bar angle|included angle)\b/i,
    drawing: {
      strokes: [
        ['bar', 'M108 30L30 90'],
        ['bar', 'M132 30L210 90'],
        ['dashed', 'M108 30L120 21L132 30'],
        ['dimension', 'M88 46A40 40 0 0 0 152 46'],
      ],
      texts: [[92, 78, 'this angle']],
    },
  },
  spread: {
    name: 'Spread',
    means: 'How far apart the inner edges of the two bars lie, measured level at a station.',
    written: /\b(spread)\b/i,
    drawing: {
      strokes: [
        ['bar', 'M85 50L20 92'],
        ['bar', 'M155 50L220 92'],
        ['line', 'M85 22V46M155 22V46'],
        ['dimension', 'M85 30H155'],
      ],
      texts: [[100, 20, 'spread']],
    },
  },
  slope: {
    name: 'Slope',
    means: 'How steeply a bar or the back falls outward at a station, in degrees below level.',
    written: /\b(slopes?|too steep|too flat)\b/i,
    drawing: {
      strokes: [
        ['bar', 'M60 25L200 95'],
        ['dashed', 'M60 25H210'],
        ['dimension', 'M150 25A90 90 0 0 1 140 65'],
      ],
      texts: [[156, 48, 'slope']],
    },
  },
  rock: {
    name: 'Rock',
    means:
      'How much the underside curves from front to rear: its radius, or the rise at the ends over a straight edge.',
    written: /\b(rock radius|rock)\b/i,
    drawing: {
      strokes: [
        ['bar', 'M30 45Q120 115 210 45'],
        ['line', 'M20 81H220'],
        ['dimension', 'M30 47V80'],
        ['dimension', 'M210 47V80'],
      ],
      texts: [
        [4, 66, 'rise'],
        [84, 100, 'straight edge'],
      ],
    },
  },
  twist: {
    name: 'Bar twist',
    means: 'Slope at the front less slope at the rear: how far the underside turns flatter from front to rear.',
    written: /\b(twist)\b/i,
    drawing: {
      strokes: [
        ['bar', 'M50 20L150 95'],
        ['line', 'M50 20L205 72'],
        ['dimension', 'M124 74A90 90 0 0 0 147 53'],
      ],
      texts: [
        [102, 100, 'front'],
        [186, 88, 'rear'],
        [150, 78, 'twist'],
      ],
    },
  },
  crown: {
    name: 'Crown',
    means: 'How much the underside bows crosswise, from inner to outer edge.',
    written: /\b(crown)\b/i,
    drawing: {
      strokes: [
        ['bar', 'M30 30Q125 105 210 75'],
        ['dashed', 'M30 30L210 75'],
        ['dimension', 'M121 53L116 76'],
      ],
      texts: [[116, 102, 'crown']],
    },
  },
  flare: {
    name: 'Flare',
    means: 'The turn of a tip away from the horse: how far its edge is lifted over the underside carried on.',
    written: /\b(flare|tips? (is|are) lifted|lift)\b/i,
    drawing: {
      strokes: [
        ['bar', 'M15 85H140Q180 85 215 45'],
        ['dashed', 'M140 85H225'],
        ['dimension', 'M215 48V84'],
      ],
      texts: [[176, 62, 'lift']],
    },
  },
  relief: {
    name: 'Relief',
    means: 'Wood taken off on purpose so that a place does not bear, such as the rounded edges of a bar.',
    written: /\b(relief)\b/i,
    drawing: {
      strokes: [
        ['bar', 'M30 45L165 78Q200 84 212 58'],
        ['dashed', 'M165 78L222 92'],
        ['dimension', 'M214 60V88'],
      ],
      texts: [[168, 60, 'relief']],
    },
  },
  bridging: {
    name: 'Bridging',
    means: 'The ends of the bars bear and the middle is clear, lengthwise: daylight under the middle.',
    written: /\b(bridg(es|ing|ed?))\b/i,
    drawing: {
      strokes: [
        ['clear', 'M40 67Q120 76 200 67Q120 103 40 67'],
        ['back', BACK_LENGTHWISE],
        ['bar', 'M40 66Q120 76 200 66'],
      ],
      texts: [[92, 58, 'daylight']],
    },
  },
  rocking: {
    name: 'Rocking',
    means: 'The middle of the bars bears and both ends are clear: the tree can be see-sawed by hand.',
    written: /\b(rocks|rocking)\b/i,
    drawing: {
      strokes: [
        ['back', BACK_LENGTHWISE],
        ['bar', 'M40 40Q120 130 200 40'],
        ['dimension', 'M42 44V64'],
        ['dimension', 'M198 44V64'],
      ],
      texts: [[90, 70, 'bears here']],
    },
  },
  'edge bearing': {
    name: 'Edge bearing',
    means: 'One edge of a bar carries most of the load there, inner or outer, and the other edge stands clear.',
    written: /\b(edge bearing|(inner|outer) \((upper|lower)\) edge)\b/i,
    drawing: {
      strokes: [
        ['back', 'M20 45Q130 50 225 100'],
        ['bar', 'M60 22L196 86'],
        ['dimension', 'M64 28V46'],
        ['squeeze', 'M178 77L196 86L190 80Z'],
      ],
      texts: [
        [30, 36, 'clear'],
        [150, 100, 'bears'],
      ],
    },
  },
  'core bearing zone': {
    name: 'Core bearing zone',
    means:
      'The part of the underside to judge first: 15 to 85 per cent of its length, without tips and relieved edges.',
    written: /\b(core( bearing)? zone)\b/i,
    drawing: {
      strokes: [
        ['zone', 'M52 40H188V78H52Z'],
        ['bar', 'M20 46Q22 30 60 30H180Q218 32 220 46V72Q218 88 180 88H60Q22 86 20 72Z'],
      ],
      texts: [[104, 63, 'core']],
    },
  },
  'set position': {
    name: 'Set position',
    means:
      'Where the front tip edge lies, in millimetres behind the edge of the shoulder blade; minus is over the blade.',
    written: /\b(set position)\b/i,
    drawing: {
      strokes: [
        ['back', 'M10 62Q120 112 230 66'],
        ['bar', 'M60 68Q130 98 215 66'],
        ['dashed', 'M100 15V98'],
        ['dimension', 'M60 38H100'],
        ['line', 'M60 32V66'],
      ],
      texts: [
        [106, 24, 'blade edge'],
        [22, 28, 'set position'],
      ],
    },
  },
  'bearing line': {
    name: 'Bearing line',
    means: 'A line along back and bar at one distance from the midline, 120 mm here, on which lengths are compared.',
    written: /\b(bearing line|lengthwise mismatch)\b/i,
    drawing: {
      strokes: [
        ['dashed', 'M10 22H230'],
        ['bar', 'M25 52Q120 40 215 56V82Q120 96 25 84Z'],
        ['line', 'M10 68H230'],
        ['dimension', 'M120 24V66'],
      ],
      texts: [
        [128, 36, '120 mm'],
        [14, 16, 'spine'],
      ],
    },
  },
  'spine clearance': {
    name: 'Spine clearance',
    means: 'The upright distance from the top of the spine to the lowest part of the tree above it.',
    written: /\b(spine clearance|clearance (at the fork|along the seat)|nearer to the spine)\b/i,
    drawing: {
      strokes: [
        ['back', 'M20 100Q100 84 112 62Q120 50 128 62Q140 84 220 100'],
        ['bar', 'M60 34Q120 4 180 34'],
        ['dimension', 'M120 20V54'],
      ],
      texts: [[126, 47, 'clearance']],
    },
  },
  'last rib': {
    name: 'Last rib',
    means: 'Where the rib cage ends: bars that bear behind it bear on the loin.',
    written: /\b(last rib|loin)\b/i,
    drawing: {
      strokes: [
        ['back', 'M10 60Q120 112 230 62'],
        ['bar', 'M25 62Q120 96 215 62'],
        ['dashed', 'M160 12V96'],
        ['dimension', 'M160 40H215'],
        ['line', 'M215 34V60'],
      ],
      texts: [
        [104, 22, 'last rib'],
        [172, 34, 'past it'],
      ],
    },
  },
} as const satisfies Readonly<Record<string, TradeWord>>;

export type WordId = keyof typeof WORDS;

export const WORD_IDS = Object.keys(WORDS) as WordId[];

/** The trade words that stand in a text, in the order in which they stand there. */
export function wordsIn(text: string): WordId[] {
  return WORD_IDS.map((id) => ({ id, at: text.search(WORDS[id].written) }))
    .filter(({ at }) => at >= 0)
    .sort((a, b) => a.at - b.at)
    .map(({ id }) => id);
}
