import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/input-error.ts';
import { monotoneCubic } from '../numeric/monotone-cubic.ts';
import { parseJson } from '../numeric/parse-json.ts';
import {
  BAR_FIELDS,
  diffFromParent,
  diffPatterns,
  listPatternFields,
  type PatternDocument,
  patternJsonSchema,
  readPattern,
  resolvePattern,
  setPatternValue,
  setPatternValues,
} from './index.ts';

const examples = new URL('../../../../examples/', import.meta.url);
const NAMES = [
  'wren',
  'post',
  'rail',
  'post-16',
  'post-18',
  'post-layered',
  'wren-630-r1150',
  'wren-630-r1750',
] as const;
const open = (name: string): PatternDocument => {
  const file = `${name}.pattern.json`;
  return readPattern(parseJson(readFileSync(new URL(file, examples)), file), file);
};
const STATIONS = [
  { name: 'front', atPercent: 20 },
  { name: 'waist', atPercent: 50 },
  { name: 'rear', atPercent: 80 },
];
const bare = (more: Record<string, unknown> = {}): PatternDocument =>
  readPattern({ schema: 'barwright/pattern/1', name: 'Bare', stations: STATIONS, values: {}, ...more });

function refusal(run: () => unknown): InputError {
  try {
    run();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

describe('demo patterns give the numbers of the trade brief, section 5', () => {
  // length, slopes, spreads, widths, rock, crown, flare zones, lifts, slot %, seat in, thickness pad/waist/tip, bearing length, sag, twist per 100 mm
  const table = {
    wren: [
      500,
      [36, 29, 21],
      [172, 124, 120],
      [142, 92, 150],
      1150,
      450,
      [70, 50],
      [16, 12],
      45,
      13.25,
      [20, 22, 8],
      380,
      15.7,
      5.0,
    ],
    post: [
      560,
      [43, 34, 25],
      [162, 114, 114],
      [150, 95, 158],
      1450,
      450,
      [75, 65],
      [18, 14],
      45,
      15.5,
      [22, 24, 8],
      420,
      15.2,
      5.4,
    ],
    rail: [
      630,
      [47, 38, 28],
      [152, 104, 108],
      [152, 98, 165],
      1750,
      500,
      [80, 70],
      [18, 16],
      44,
      18.25,
      [22, 25, 10],
      480,
      16.5,
      5.0,
    ],
  } as const;

  it.each(['wren', 'post', 'rail'] as const)('%s', (name) => {
    const [
      lengthMm,
      slopes,
      spreads,
      widths,
      rock,
      crown,
      zones,
      lifts,
      slotPercent,
      seat,
      thick,
      bearing,
      sag,
      twist,
    ] = table[name];
    const { right, left, shared, remarks } = resolvePattern(open(name));
    expect(left).toBe(right);
    expect(remarks).toEqual([]);
    expect(right.lengthMm).toBe(lengthMm);
    expect(right.stations.map((s) => s.atMm / lengthMm)).toEqual([0.2, 0.5, 0.8]);
    right.stations.forEach((station, i) => {
      expect((station.slopeRad * 180) / Math.PI).toBeCloseTo(slopes[i]!, 12);
      expect(station.spreadMm).toBe(spreads[i]);
      expect(station.widthMm).toBe(widths[i]);
      expect(1 / station.crownCurvaturePerMm).toBeCloseTo(crown, 9);
      expect(station.spreadMm / 2 + station.bearingInsetMm).toBe(120);
      expect(station.thicknessMm).toBe(i === 1 ? thick[1] : thick[0]);
    });
    expect(1 / right.rockCurvaturePerMm).toBeCloseTo(rock, 9);
    expect(right.rockLowPointMm).toBe(lengthMm / 2);
    expect([right.flareZoneFrontMm, right.flareZoneRearMm]).toEqual(zones);
    expect([right.flareLiftFrontMm, right.flareLiftRearMm]).toEqual(lifts);
    expect(right.slotCentreMm).toBeCloseTo((slotPercent / 100) * lengthMm, 9);
    expect(right.tipThicknessMm).toBe(thick[2]);
    expect([right.reliefDepthMm, right.reliefFraction, right.tipTaper]).toEqual([4, 0.08, 0.75]);
    expect(shared.seatLengthMm).toBeCloseTo(seat * 25.4, 9);
    // The table's derived rows.
    expect(lengthMm - zones[0] - zones[1]).toBe(bearing);
    expect(bearing ** 2 / (8 * rock)).toBeCloseTo(sag, 1);
    expect(((slopes[0] - slopes[2]) / (0.6 * lengthMm)) * 100).toBeCloseTo(twist, 1);
    // Load comes down at 47 % of length by default.
    expect(Math.abs(shared.seatLowMm / lengthMm - 0.47)).toBeLessThan(0.005);
  });

  it('Post in other seat lengths moves bar and cantle with the seat and keeps its widths', () => {
    const post = resolvePattern(open('post'));
    for (const [name, seatMm] of [
      ['post-16', 406.4],
      ['post-18', 457.2],
    ] as const) {
      const { right, shared } = resolvePattern(open(name));
      expect(right.lengthMm).toBeCloseTo(seatMm + 165.1, 9);
      expect(shared.cantleFrontMm).toBeCloseTo(post.shared.cantleFrontMm + seatMm - 393.7, 9);
      expect(shared.seatLowMm).toBeGreaterThan(post.shared.seatLowMm);
      expect(right.stations.map((s) => s.widthMm)).toEqual(post.right.stations.map((s) => s.widthMm));
      expect(diffFromParent(open(name)).map((entry) => entry.key)).toEqual([
        'length',
        'seatLength',
        'cantleFront',
        'seatLow',
        'cantleFootFrom',
        'cantleFootTo',
        'groundSeatTo',
      ]);
    }
  });

  it('the two long Wrens differ from Wren in length, and in rock only where their name says so', () => {
    const [length] = diffFromParent(open('wren-630-r1150'));
    expect(diffFromParent(open('wren-630-r1150')).map((d) => d.key)).toEqual(['length', 'cantleFootTo']);
    expect(length).toMatchObject({ key: 'length', side: 'both', value: 630, parentValue: 500, delta: 130, unit: 'mm' });
    expect(diffFromParent(open('wren-630-r1750')).map((d) => [d.key, d.delta])).toEqual([
      ['length', 130],
      ['rockRadius', 600],
      ['cantleFootTo', 130],
    ]);
    expect(diffFromParent(open('wren'))).toEqual([]);
  });
});

describe('JSON Schema', () => {
  const validate = new Ajv2020({ strict: true }).compile(patternJsonSchema());

  it.each(NAMES)('accepts %s', (name) => {
    const valid = validate(JSON.parse(readFileSync(new URL(`${name}.pattern.json`, examples), 'utf8')));
    expect(validate.errors).toBeNull();
    expect(valid).toBe(true);
  });

  it.each<[string, Record<string, unknown>]>([
    ['an extra field', { extra: 1 }],
    ['another schema', { schema: 'barwright/pattern/2' }],
    ['no stations', { stations: [] }],
    ['a list as value', { values: { length: [560] } }],
  ])('refuses %s, as reading does', (_, change) => {
    const json = { ...open('post'), ...change };
    expect(validate(json)).toBe(false);
    expect(refusal(() => readPattern(json)).code).toMatch(/unknown-field|unknown-schema|out-of-range|wrong-type/);
  });
});

describe('defaults', () => {
  it('a document with no values is the Standard bar with its line 120 mm out', () => {
    const ours = resolvePattern(bare());
    const post = resolvePattern(open('post'));
    expect(ours.right).toEqual(post.right);
    expect(ours.shared).toEqual(post.shared);
    expect(ours.materials).toEqual({
      bar: 'wood',
      lower: 'low density polyethylene',
      tip: 'low density polyethylene',
    });
  });

  it('every default lies in its range and every field says what it is', () => {
    const { values } = resolvePattern(bare());
    for (const field of listPatternFields(STATIONS)) {
      const value = values[field.key] as number;
      expect(value).toBeGreaterThanOrEqual(field.min);
      expect(value).toBeLessThanOrEqual(field.max);
      expect(field.help.length).toBeGreaterThan(10);
    }
    expect(Object.keys(values)).toHaveLength(6 * 3 + BAR_FIELDS.length);
  });

  it('takes one station or many, in any order', () => {
    const one = resolvePattern(bare({ stations: [{ name: 'only', atPercent: 35 }] }));
    expect(one.right.stations).toHaveLength(1);
    expect((one.right.stations[0]!.slopeRad * 180) / Math.PI).toBeCloseTo(38.5, 12);
    const many = resolvePattern(
      bare({
        stations: [
          { name: 'd', atPercent: 95 },
          { name: 'a', atPercent: 5 },
          { name: 'b', atPercent: 50 },
        ],
        values: { slopeA: 40, slopeD: '20 deg' },
      }),
    );
    expect(many.right.stations.map((s) => s.name)).toEqual(['a', 'b', 'd']);
    expect(many.values.slopeD).toBe(20);
  });
});

describe('values', () => {
  it('read shop numbers, units and expressions', () => {
    const { values } = resolvePattern(
      bare({
        values: {
          length: 'seatLength + 6 1/2 in',
          seatLength: '15 1/2',
          slopeFront: 'slopeRear + 18 deg',
          spreadFront: '6 1/2 in',
          reliefDepth: '5/32 in',
          rockRadius: '1.2 m',
          crownWaist: 'flat',
          slotCentre: '44 %',
        },
      }),
    );
    expect(values.length).toBe(558.8);
    expect(values.seatLength).toBeCloseTo(393.7, 10);
    expect(values.slopeFront).toBe(43);
    expect(values.spreadFront).toBeCloseTo(165.1, 10);
    expect(values.bearingInsetFront).toBeCloseTo(37.45, 9);
    expect(values.rockRadius).toBe(1200);
    expect(values.crownWaist).toBe('flat');
    expect(values.slotCentre).toBe(44);
  });

  it('flat is no curvature, may be handed on, and is not calculated with', () => {
    const { right } = resolvePattern(
      bare({ values: { rockRadius: 'flat', crownFront: 'flat', crownRear: 'crownFront' } }),
    );
    expect(right.rockCurvaturePerMm).toBe(0);
    expect(right.stations.map((s) => s.crownCurvaturePerMm)).toEqual([0, 1 / 450, 0]);
    const error = refusal(() =>
      resolvePattern(bare({ values: { crownFront: 'flat', crownRear: 'crownFront + 1 mm' } })),
    );
    expect([error.code, error.details.field]).toEqual(['not-a-number', 'values.crownRear']);
  });

  it('a value written in millimetres or in inches is the same bar (seed 441)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 12 * 16, max: 35 * 16 }), (sixteenths) => {
        const whole = Math.floor(sixteenths / 16);
        const inInches = resolvePattern(bare({ values: { length: `${whole} ${sixteenths % 16}/16 in` } }));
        const inMm = resolvePattern(bare({ values: { length: (sixteenths / 16) * 25.4 } }));
        expect(inInches.right.lengthMm).toBeCloseTo(inMm.right.lengthMm, 9);
      }),
      { seed: 441, numRuns: 60 },
    );
  });

  it.each<[Record<string, unknown>, string, string]>([
    [{ length: 'length + 1 mm' }, 'cycle', 'length'],
    [{ length: 'seatLength', seatLength: 'length' }, 'cycle', 'length'],
    [{ length: '560 kg' }, 'wrong-unit', 'values.length'],
    [{ length: '45 deg' }, 'wrong-unit', 'values.length'],
    [{ slopeFront: '43 mm' }, 'wrong-unit', 'values.slopeFront'],
    [{ length: '2*280' }, 'wrong-unit', 'values.length'],
    [{ length: '10 mm * 56 mm' }, 'wrong-unit', 'values.length'],
    [{ slotCentre: '45 mm' }, 'wrong-unit', 'values.slotCentre'],
    [{ length: 5600 }, 'out-of-range', 'values.length'],
    [{ length: -560 }, 'out-of-range', 'values.length'],
    [{ length: 0 }, 'out-of-range', 'values.length'],
    [{ length: '22-1/4' }, 'ambiguous', 'values.length'],
    [{ rockRadius: '5/8 in' }, 'ambiguous', 'values.rockRadius'],
    [{ length: 'flat' }, 'unknown-name', 'values.length'],
    [{ flareZoneFront: 300, flareZoneRear: 300 }, 'inconsistent', 'values.flareZoneFront'],
    [{ length: 900, rockRadius: 400 }, 'inconsistent', 'values.rockRadius'],
    [{ crownFront: 100, slopeFront: 50 }, 'inconsistent', 'values.crownFront'],
    [{ cantleFront: 100, forkBack: 200 }, 'inconsistent', 'values.cantleFront'],
    [{ slotCentre: 10, slotLength: 150 }, 'inconsistent', 'values.slotCentre'],
    [{ tipLengthFront: 285 }, 'inconsistent', 'values.tipLengthFront'],
    [{ tipLengthRear: 285 }, 'inconsistent', 'values.tipLengthRear'],
    [{ cantleFootFrom: 600, cantleFootTo: 700 }, 'inconsistent', 'values.cantleFootFrom'],
    [{ forkFootFrom: 570, forkFootTo: 600 }, 'inconsistent', 'values.forkFootFrom'],
    [{ lowerShare: 95 }, 'out-of-range', 'values.lowerShare'],
  ])('%j is refused', (values, code, field) => {
    const error = refusal(() => resolvePattern(bare({ values })));
    expect([error.code, error.details.field]).toEqual([code, field]);
  });
});

describe('tips and feet', () => {
  it('a tip keeps the thickness of its root to the edge unless told otherwise, and its length is the flare zone', () => {
    const { right, shared } = resolvePattern(bare({ values: { tipThickness: 9, flareZoneFront: 90 } }));
    expect([right.tipThicknessMm, right.tipEdgeThicknessMm]).toEqual([9, 9]);
    expect([right.tipLengthFrontMm, right.tipLengthRearMm]).toEqual([90, 65]);
    expect([shared.forkFootFromMm, shared.forkFootToMm]).toEqual([90, 110]);
    expect(shared.cantleFootFromMm).toBeCloseTo(85 + 393.7, 9);
    expect(shared.cantleFootToMm).toBe(560 - 65);
  });

  it('the layered Post differs from Post in tips, lower layer and materials alone', () => {
    const layered = open('post-layered');
    expect(diffFromParent(layered).map((d) => [d.key, d.value])).toEqual([
      ['tipThickness', 12],
      ['tipEdgeThickness', 5],
      ['lowerShare', 40],
    ]);
    const { right, materials, remarks } = resolvePattern(layered);
    expect([right.tipThicknessMm, right.tipEdgeThicknessMm, right.lowerShare]).toEqual([12, 5, 0.4]);
    expect(materials).toEqual({
      bar: 'high density polyethylene',
      lower: 'low density polyethylene',
      tip: 'low density polyethylene',
    });
    expect(remarks).toEqual([]);
  });

  it.each<[Record<string, unknown>, string, RegExp]>([
    [{ tipThickness: 30 }, 'tipThickness', /right tips are thicker at the root than the bar/],
    [{ tipEdgeThickness: 10 }, 'tipEdgeThickness', /right tips are thicker at the edge/],
    [{ forkFootTo: 500 }, 'forkFootTo', /behind the beginning of the cantle's/],
    [{ cantleFootTo: 570 }, 'cantleFootFrom', /cantle's foot reaches beyond the rear tip/],
    [{ cantleFootTo: 400 }, 'cantleFootFrom', /taken the other way round/],
  ])('%j is remarked on and not refused', (values, field, sentence) => {
    const found = resolvePattern(bare({ values })).remarks.filter((remark) => remark.field === field);
    expect(found).toHaveLength(1);
    expect(found[0]!.sentence).toMatch(sentence);
  });
});

describe('left bar', () => {
  it('differs only where it is told to', () => {
    const { left, right } = resolvePattern(bare({ leftValues: { slopeFront: 45, spreadFront: 170 } }));
    expect((left.stations[0]!.slopeRad * 180) / Math.PI).toBeCloseTo(45, 12);
    expect(left.stations[0]!.spreadMm / 2 + left.stations[0]!.bearingInsetMm).toBe(120);
    expect(left.stations.slice(1)).toEqual(right.stations.slice(1));
    expect(right).toEqual(resolvePattern(bare()).right);
  });

  it('is named in errors and differences, and cannot have a seat of its own', () => {
    expect(refusal(() => resolvePattern(bare({ leftValues: { slopeFront: 99 } }))).details.field).toBe(
      'leftValues.slopeFront',
    );
    expect(refusal(() => bare({ leftValues: { seatLength: 400 } })).code).toBe('unknown-field');
    const differences = diffPatterns(setPatternValue(open('post'), 'left.slopeFront', 45), open('post'));
    expect(differences.map(({ key, side, delta }) => [key, side, delta])).toEqual([['slopeFront', 'left', 2]]);
  });
});

describe('hostile documents', () => {
  const good = { schema: 'barwright/pattern/1', name: 'x', stations: STATIONS, values: {} };
  const nested = (levels: number): unknown => (levels === 0 ? 1 : [nested(levels - 1)]);
  it.each<[string, unknown, string]>([
    ['null', null, 'wrong-type'],
    ['a list', [], 'wrong-type'],
    ['text', '', 'wrong-type'],
    ['nothing', undefined, 'wrong-type'],
    ['no schema', {}, 'missing'],
    ['another document', { ...good, schema: 'barwright/back/1' }, 'unknown-schema'],
    ['a future version', { ...good, schema: 'barwright/pattern/2' }, 'unknown-schema'],
    ['schema as a number', { ...good, schema: 1 }, 'unknown-schema'],
    ['own __proto__', JSON.parse('{"schema":"barwright/pattern/1","__proto__":{"a":1}}'), 'forbidden'],
    ['nested __proto__', JSON.parse('{"schema":"barwright/pattern/1","values":{"__proto__":1}}'), 'forbidden'],
    ['constructor as value', { ...good, values: { constructor: 1 } }, 'forbidden'],
    ['an extra field', { ...good, colour: 'red' }, 'unknown-field'],
    ['an extra station field', { ...good, stations: [{ ...STATIONS[0], z: 1 }] }, 'unknown-field'],
    ['no name', { schema: good.schema, stations: STATIONS, values: {} }, 'missing'],
    ['no stations', { ...good, stations: [] }, 'out-of-range'],
    [
      'two stations with one name',
      { ...good, stations: [STATIONS[0], { name: 'front', atPercent: 30 }] },
      'inconsistent',
    ],
    [
      'two stations in one place',
      { ...good, stations: [STATIONS[0], { name: 'other', atPercent: 20 }] },
      'inconsistent',
    ],
    ['a station off the bar', { ...good, stations: [{ name: 'far', atPercent: 101 }] }, 'out-of-range'],
    ['infinity', { ...good, values: { length: Number.POSITIVE_INFINITY } }, 'not-a-number'],
    ['NaN', { ...good, values: { length: Number.NaN } }, 'not-a-number'],
    ['null as value', { ...good, values: { length: null } }, 'wrong-type'],
    ['an object as value', { ...good, values: { length: { valueOf: 1 } } }, 'wrong-type'],
    ['an unknown value', { ...good, values: { lenght: 560 } }, 'unknown-name'],
    ['a value of another station', { ...good, values: { slopeMiddle: 30 } }, 'unknown-name'],
    ['an ambiguous value', { ...good, values: { twist: 18 } }, 'ambiguous'],
    ['a misspelt value of the parent', { ...good, parent: { name: 'p', values: { lenght: 1 } } }, 'unknown-name'],
    [
      'a seat for the left bar of the parent',
      { ...good, parent: { name: 'p', values: {}, leftValues: { seatLength: 1 } } },
      'unknown-field',
    ],
    ['an answer to no question', { ...good, answers: { length: 'long' } }, 'unknown-field'],
    ['an answer that is no choice', { ...good, answers: { gulletWidth: 'somewhere' } }, 'ambiguous'],
    ['deep nesting', { ...good, notes: nested(5000) }, 'too-large'],
    ['a million characters', { ...good, values: { length: '1'.repeat(1_000_000) } }, 'too-long'],
    ['an empty value', { ...good, values: { length: '' } }, 'empty'],
  ])('%s', (_, json, code) => {
    const error = refusal(() => readPattern(json, 'x.pattern.json'));
    expect(error.code).toBe(code);
    expect(error.details.file).toBe('x.pattern.json');
    expect(Object.hasOwn(Object.prototype, 'a')).toBe(false);
  });

  it('any JSON is a pattern or refused by a typed error (seed 442)', () => {
    const part = fc.record(
      {
        schema: fc.constantFrom('barwright/pattern/1', 'barwright/pattern/9', 3),
        name: fc.oneof(fc.string(), fc.integer()),
        stations: fc.oneof(fc.constant(STATIONS), fc.jsonValue()),
        values: fc.oneof(
          fc.dictionary(
            fc.constantFrom('length', 'slopeFront', 'twist', 'gulletWidth'),
            fc.oneof(fc.double(), fc.string()),
          ),
          fc.jsonValue(),
        ),
      },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(fc.oneof(part, fc.jsonValue()), (json) => {
        try {
          expect(resolvePattern(readPattern(json)).right.lengthMm).toBeGreaterThan(0);
        } catch (error) {
          expect(error).toBeInstanceOf(InputError);
        }
      }),
      { seed: 442, numRuns: 1500 },
    );
  });
});

describe('setting values', () => {
  it('gives a new document and leaves the old one', () => {
    const post = open('post');
    const before = structuredClone(post);
    const longer = setPatternValue(post, 'length', '630 mm');
    expect(resolvePattern(longer).right.lengthMm).toBe(630);
    expect(post).toEqual(before);
    expect(setPatternValue(longer, 'length', 560)).toEqual(post);
    expect(setPatternValue(post, 'slopeFront', '45').values.slopeFront).toBe(45);
    expect(setPatternValue(post, 'rockRadius', 'flat').values.rockRadius).toBe('flat');
  });

  it('checks several changes together, and only their outcome', () => {
    const post = open('post');
    const first = setPatternValue(post, 'flareZoneFront', 300);
    const refused = refusal(() => setPatternValue(first, 'flareZoneRear', 300));
    expect([refused.code, refused.details.field]).toEqual(['inconsistent', 'values.flareZoneFront']);
    const both = setPatternValues(post, [
      ['flareZoneFront', 300],
      ['length', 700],
      ['flareZoneRear', 300],
    ]);
    expect(resolvePattern(both).right.flareZoneRearMm).toBe(300);
  });

  it.each<[string, string | number, string, RegExp]>([
    ['lenght', 560, 'unknown-name', /length/],
    ['slope', 40, 'unknown-name', /slopeFront/],
    ['left.seatLength', 400, 'unknown-field', /values/],
    ['left.nothing', 400, 'unknown-name', /list of values/],
    ['__proto__', 1, 'unknown-name', /values/],
    ['materials.__proto__', 'x', 'forbidden', /pattern/],
    ['twist', 18, 'ambiguous', /seat waist width/],
    ['gullet width', '6 1/2 in', 'ambiguous', /at hand hole.*at gullet mid-height/],
    ['rock', '5/8 in', 'ambiguous', /chord/],
    ['angle', 90, 'ambiguous', /included/],
    ['length', '22-1/4', 'ambiguous', /22\.25.*21\.75/],
    ['length', '1,5', 'syntax', /1\.5/],
    ['length', 9000, 'out-of-range', /560-585/],
  ])('%s = %s is refused', (key, value, code, remedy) => {
    const error = refusal(() => setPatternValue(open('post'), key, value));
    expect(error.code).toBe(code);
    expect(error.message).toMatch(remedy);
  });

  it('a changed spread carries the bar sideways, also where the inset was never written', () => {
    for (const document of [open('post'), bare()]) {
      const front = resolvePattern(setPatternValue(document, 'spreadFront', 186)).right.stations[0]!;
      expect(front.spreadMm / 2 + front.bearingInsetMm).toBe(132);
    }
    const left = resolvePattern(setPatternValue(bare(), 'left.spreadFront', 186));
    expect(left.left.stations[0]!.bearingInsetMm).toBe(39);
    expect(left.right.stations[0]!.spreadMm).toBe(162);
  });

  it('keeps names, notes, materials and goes back to a default', () => {
    const changed = setPatternValues(open('post'), [
      ['name', 'Post two'],
      ['materials.bar', 'glass laminate'],
      ['crownFront', 'default'],
    ]);
    expect(changed.name).toBe('Post two');
    expect(resolvePattern(changed).materials.bar).toBe('glass laminate');
    expect(Object.hasOwn(changed.values, 'crownFront')).toBe(false);
  });
});

describe('gullet width', () => {
  const spreadAt = (document: PatternDocument, atMm: number): number => {
    const { stations } = resolvePattern(document).right;
    return monotoneCubic(
      stations.map((s) => s.atMm),
      stations.map((s) => s.spreadMm),
    ).at(atMm)[0];
  };

  it('at the hand hole, the bars are that far apart there', () => {
    const document = setPatternValue(open('post'), 'gulletWidth', '6 1/2 in at hand hole');
    expect(document.answers).toEqual({ gulletWidth: 'at hand hole' });
    expect(document.values.gulletWidth).toBe('6 1/2 in');
    expect(spreadAt(document, 130)).toBeCloseTo(165.1, 9);
    expect(resolvePattern(document).right.stations[0]!.spreadMm).toBeGreaterThan(165.1);
    expect(resolvePattern(document).right.stations[0]!.bearingInsetMm).toBe(39);
  });

  it('at the fork front it is the foremost spread; said later, that spread replaces it', () => {
    const document = setPatternValues(open('post'), [
      ['gulletWidth', 170],
      ['answers.gulletWidth', 'at fork front'],
    ]);
    expect(resolvePattern(document).right.stations[0]!.spreadMm).toBe(170);
    const again = setPatternValue(document, 'spreadFront', 162);
    expect([again.values.spreadFront, again.values.gulletWidth, again.answers]).toEqual([162, undefined, {}]);
  });

  it('elsewhere it stays a note and changes no geometry', () => {
    const document = setPatternValue(open('post'), 'gulletWidth', '7 in between finished-leather rosettes');
    const { right, remarks } = resolvePattern(document);
    expect(right).toEqual(resolvePattern(open('post')).right);
    expect(remarks[0]).toMatchObject({ field: 'gulletWidth' });
  });

  it('is refused without its place, twice over, or where no spread gives it', () => {
    const good = { values: { gulletWidth: 165 } };
    expect(refusal(() => resolvePattern(bare(good))).code).toBe('ambiguous');
    const answers = { gulletWidth: 'at hand hole' };
    expect(refusal(() => resolvePattern(bare({ values: { gulletWidth: 165, spreadFront: 162 }, answers }))).code).toBe(
      'inconsistent',
    );
    expect(refusal(() => resolvePattern(bare({ values: { gulletWidth: 165, handHole: 300 }, answers }))).code).toBe(
      'inconsistent',
    );
  });

  it('survives saving and opening', () => {
    const document = setPatternValue(open('post'), 'gulletWidth', '6 1/2 in at hand hole');
    expect(readPattern(parseJson(JSON.stringify(document)))).toEqual(document);
  });
});
