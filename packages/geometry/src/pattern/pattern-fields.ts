/** How a value of the pattern is written and checked. `radius` is a length that may also be the word "flat". */
export type FieldKind = 'length' | 'angle' | 'percent' | 'radius';

export interface FieldSpec {
  /** The name in documents, `--set`, `--vary` and expressions. For a station quantity without the station's name. */
  readonly key: string;
  readonly label: string;
  readonly kind: FieldKind;
  /** Unit of a bare number. */
  readonly unit: 'mm' | 'deg' | '%';
  readonly min: number;
  readonly max: number;
  /** A number in the field's unit, or an expression. */
  readonly default: number | string;
  readonly group: 'stations' | 'bar' | 'tips and relief' | 'stirrup slot' | 'seat and fork';
  /** What it is, with the range the trade uses (common practice, no source). */
  readonly help: string;
  /** Whether the left bar may differ from the right one. */
  readonly perSide: boolean;
}

/** A quantity given at every station. `defaults` are at 20, 50 and 80 % of length; other stations take what lies between. */
export interface StationFieldSpec extends Omit<FieldSpec, 'default' | 'group' | 'perSide'> {
  readonly defaults: readonly [number, number, number] | ((suffix: string) => string);
}

export const STATION_FIELDS: readonly StationFieldSpec[] = [
  {
    key: 'slope',
    label: 'Slope',
    kind: 'angle',
    unit: 'deg',
    min: 0,
    max: 75,
    defaults: [43, 34, 25],
    help: 'Angle of the chord below horizontal, going outward. Front pad 34-52, waist 22-44, rear pad 14-34. Included angle = 180 less both slopes.',
  },
  {
    key: 'spread',
    label: 'Bar spread',
    kind: 'length',
    unit: 'mm',
    min: 40,
    max: 320,
    defaults: [162, 114, 114],
    help: 'Inner edge to inner edge, horizontal. Front 140-185, waist and rear 100-125. Carries the whole bar sideways.',
  },
  {
    key: 'width',
    label: 'Width',
    kind: 'length',
    unit: 'mm',
    min: 40,
    max: 260,
    defaults: [150, 95, 158],
    help: 'Inner to outer edge along the chord, before relief. Front pad 115-180, waist 75-120, rear pad 130-190.',
  },
  {
    key: 'crown',
    label: 'Crown radius',
    kind: 'radius',
    unit: 'mm',
    min: 100,
    max: 20_000,
    defaults: [450, 450, 450],
    help: 'Radius of the crosswise convexity in the station plane, or flat. 400-600 usual, 250 to flat seen.',
  },
  {
    key: 'bearingInset',
    label: 'Bearing line inset',
    kind: 'length',
    unit: 'mm',
    min: -60,
    max: 200,
    defaults: (suffix) => `120 mm - spread${suffix}/2`,
    help: "From the inner edge outward to the bar's bearing line, horizontal. The rock is measured along that line; the demo bars have it 120 mm from the midplane.",
  },
  {
    key: 'thickness',
    label: 'Thickness',
    kind: 'length',
    unit: 'mm',
    min: 3,
    max: 60,
    defaults: [22, 24, 22],
    help: 'Of the bar itself. Wood 20-25 mm.',
  },
];

const bar = (spec: Omit<FieldSpec, 'group' | 'perSide'> & { perSide?: boolean }): FieldSpec => ({
  perSide: true,
  ...spec,
  group: 'bar',
});
const tips = (spec: Omit<FieldSpec, 'group' | 'perSide'>): FieldSpec => ({
  ...spec,
  perSide: true,
  group: 'tips and relief',
});
const slot = (spec: Omit<FieldSpec, 'group' | 'perSide'>): FieldSpec => ({
  ...spec,
  perSide: true,
  group: 'stirrup slot',
});
const seat = (spec: Omit<FieldSpec, 'group' | 'perSide' | 'kind' | 'unit'> & Partial<FieldSpec>): FieldSpec => ({
  kind: 'length',
  unit: 'mm',
  ...spec,
  perSide: false,
  group: 'seat and fork',
});

export const BAR_FIELDS: readonly FieldSpec[] = [
  bar({
    key: 'length',
    label: 'Overall length',
    kind: 'length',
    unit: 'mm',
    min: 300,
    max: 900,
    default: 560,
    perSide: false,
    help: 'Front tip edge to rear tip edge, along the horizontal. 560-585 usual, 480-660 seen. Often seat length + 6 1/2 in.',
  }),
  bar({
    key: 'rockRadius',
    label: 'Rock radius',
    kind: 'radius',
    unit: 'mm',
    min: 400,
    max: 20_000,
    default: 1450,
    help: 'Radius of the underside along the bearing line, convex downward, or flat. 1200-1800 usual, 900-3000 seen. A sag says nothing without its chord.',
  }),
  bar({
    key: 'rockLowPoint',
    label: 'Low point of the rock',
    kind: 'percent',
    unit: '%',
    min: 20,
    max: 80,
    default: 50,
    perSide: false,
    help: 'Where the bearing line is lowest, % of length from the front tip.',
  }),
  tips({
    key: 'flareZoneFront',
    label: 'Front flare zone',
    kind: 'length',
    unit: 'mm',
    min: 0,
    max: 300,
    default: 75,
    help: 'Length over which the front tip turns up. 65-90 usual.',
  }),
  tips({
    key: 'flareZoneRear',
    label: 'Rear flare zone',
    kind: 'length',
    unit: 'mm',
    min: 0,
    max: 300,
    default: 65,
    help: 'Length over which the rear tip turns up. 50-70 usual.',
  }),
  tips({
    key: 'flareLiftFront',
    label: 'Front flare lift',
    kind: 'length',
    unit: 'mm',
    min: 0,
    max: 80,
    default: 18,
    help: 'Lift at the front tip edge over the unflared surface continued. 15-20 usual, 8-30 seen.',
  }),
  tips({
    key: 'flareLiftRear',
    label: 'Rear flare lift',
    kind: 'length',
    unit: 'mm',
    min: 0,
    max: 80,
    default: 14,
    help: 'Lift at the rear tip edge over the unflared surface continued. 12-16 usual, 6-25 seen.',
  }),
  tips({
    key: 'reliefDepth',
    label: 'Edge relief depth',
    kind: 'length',
    unit: 'mm',
    min: 0,
    max: 30,
    default: 4,
    help: 'Taken off at the edges so that they do not bear. 2-6 mm.',
  }),
  tips({
    key: 'reliefWidth',
    label: 'Edge relief width',
    kind: 'percent',
    unit: '%',
    min: 0,
    max: 40,
    default: 8,
    help: 'Strip along each edge that is relieved, % of the width on each side.',
  }),
  tips({
    key: 'tipTaper',
    label: 'Tip taper',
    kind: 'percent',
    unit: '%',
    min: 20,
    max: 100,
    default: 75,
    help: 'Width left at the tip edges, % of the width the bar would have there.',
  }),
  tips({
    key: 'tipRound',
    label: 'Tip corner radius',
    kind: 'length',
    unit: 'mm',
    min: 0,
    max: 120,
    default: 35,
    help: 'Radius of the rounded tip corners in plan.',
  }),
  tips({
    key: 'tipThickness',
    label: 'Tip thickness',
    kind: 'length',
    unit: 'mm',
    min: 2,
    max: 40,
    default: 8,
    help: 'Of the plastic tip. Stiffness goes with its cube. 6-10 mm.',
  }),
  slot({
    key: 'slotCentre',
    label: 'Slot centre',
    kind: 'percent',
    unit: '%',
    min: 10,
    max: 90,
    default: 45,
    help: 'Middle of the stirrup-leather slot, % of length from the front tip. 40-50.',
  }),
  slot({
    key: 'slotLength',
    label: 'Slot length',
    kind: 'length',
    unit: 'mm',
    min: 0,
    max: 150,
    default: 70,
    help: 'Along the bar. 65-75 mm; 0 for none.',
  }),
  slot({
    key: 'slotWidth',
    label: 'Slot width',
    kind: 'length',
    unit: 'mm',
    min: 0,
    max: 60,
    default: 14,
    help: 'Across the bar; taken out of the bearing surface. 0 for none.',
  }),
  slot({
    key: 'slotAcross',
    label: 'Slot across',
    kind: 'percent',
    unit: '%',
    min: 0,
    max: 100,
    default: 62,
    help: 'Middle of the slot, % of the width from the inner edge.',
  }),
  seat({
    key: 'seatLength',
    label: 'Seat length',
    min: 200,
    max: 600,
    default: 393.7,
    help: 'Back of the fork to the front of the cantle. 13-18 1/2 in / 330-470 mm.',
  }),
  seat({
    key: 'forkBack',
    label: 'Back of the fork',
    min: 0,
    max: 300,
    default: 85,
    help: 'From the front tip edge to the back of the fork, where the seat is measured from.',
  }),
  seat({
    key: 'cantleFront',
    label: 'Front of the cantle',
    min: 100,
    max: 1000,
    default: 'forkBack + seatLength',
    help: 'From the front tip edge. Moves with the seat length.',
  }),
  seat({
    key: 'seatLow',
    label: 'Seat low point',
    min: 50,
    max: 800,
    default: 'forkBack + 0.452*seatLength',
    help: "From the front tip edge to the lowest point of the rider's seat, where the load comes down. 40-52 % of length.",
  }),
  seat({
    key: 'handHole',
    label: 'Hand hole station',
    min: 0,
    max: 500,
    default: 'forkBack + 45 mm',
    help: 'Middle of the hand hole, from the front tip edge. Many shops measure the bar spread here.',
  }),
  seat({
    key: 'gulletHeight',
    label: 'Gullet height',
    min: 60,
    max: 320,
    default: 190,
    help: 'Vertical, top of the tunnel to the line joining the inner lower edges. 165-205 mm.',
  }),
  seat({
    key: 'groundSeatFrom',
    label: 'Ground seat begins',
    min: 0,
    max: 900,
    default: 'handHole + 45 mm',
    help: 'From the front tip edge. Between its ends the ground seat ties the bars together.',
  }),
  seat({
    key: 'groundSeatTo',
    label: 'Ground seat ends',
    min: 0,
    max: 1000,
    default: 'cantleFront',
    help: 'From the front tip edge.',
  }),
  seat({
    key: 'groundSeatRiseFront',
    label: 'Ground seat rise, front',
    min: 0,
    max: 120,
    default: 40,
    help: 'Underside of the ground seat over the upper inner edges of the bars, at its front end. Common practice, no source.',
  }),
  seat({
    key: 'groundSeatRise',
    label: 'Ground seat rise',
    min: 0,
    max: 80,
    default: 10,
    help: 'The same at the seat low point and behind it. 3-15 mm over the bars.',
  }),
  seat({
    key: 'stirrupHang',
    label: 'Stirrups hang',
    kind: 'percent',
    unit: '%',
    min: 10,
    max: 90,
    default: 45,
    help: 'Where the stirrup leathers pull, % of length from the front tip. 40-50.',
  }),
];

/** Materials of a document that names none. */
export const DEFAULT_MATERIALS: Readonly<Record<string, string>> = Object.freeze({
  bar: 'wood',
  tip: 'low density polyethylene',
});
