import { type BackSurface, MOST_LIFT_MM, type StridePhase, type TipOption, tipEdgeGapMm } from '@barwright/geometry';
import type { ShoulderDocument, ShoulderResult, ShoulderRun } from '../commands/shoulder.ts';
import type { FitInputs } from '../inputs/fit-inputs.ts';
import type { Io } from '../io.ts';
import { SHORT_CAUTION } from './cautions.ts';
import { plainText } from './plain-text.ts';
import { assumptionLines } from './print-fit.ts';
import { cell, shown, tableText, wrapText } from './table.ts';

/** The stride as a table, what its worst moments are against standing, and what was solved. */
export function printShoulder(document: ShoulderDocument, inputs: FitInputs, standing: BackSurface, io: Io): void {
  const { result } = document;
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  const heading = (text: string): void => io.stderr(`\n${io.bold ? `\u001b[1m${text}\u001b[22m` : text}\n`);
  io.stderr(`\n${plainText(inputs.title)}, over a stride: ${result.status}\n`);
  for (const line of assumptionLines(inputs.documents.setup, standing.measured, inputs.changes)) paragraph(line);
  for (const line of strideLines(result)) paragraph(line);
  heading('Moment by moment');
  io.stderr(phaseTable(result));
  io.stderr(wrapText(LEGEND, '  '));
  heading('The worst of it');
  for (const line of worstLines(result)) paragraph(line);
  paragraph(RULE_OF_THUMB);
  if (result.crept !== null) {
    heading(`Crept forward ${shown(result.crept.creepMm)} mm, beside it`);
    io.stderr(creptTable(result, result.crept));
    for (const line of worstLines(result.crept)) paragraph(`Crept: ${line}`);
  }
  if (result.clear !== null) {
    heading(`Lift of the front tips that leaves ${shown(result.clear.wantedMm)} mm at every moment, and what it costs`);
    io.stderr(clearTable(result.clear));
    paragraph(CLEAR_LEGEND);
  }
  if (document.warnings.length > 0) heading('Notes');
  for (const { field, sentence } of document.warnings) paragraph(`${field}: ${sentence}`);
  for (const outcome of document.requirements) {
    const value = typeof outcome.value === 'number' ? outcome.value.toPrecision(5) : (outcome.value ?? 'no data');
    paragraph(`${outcome.met ? 'Met' : 'NOT MET'}: ${outcome.condition} (is ${value})`);
  }
  io.stderr(`\n${wrapText(SHORT_CAUTION, '')}\n`);
}

const LEGEND =
  'Tip gap: clearance from the front tip edge to the top of the layers at its inner edge / bearing line / outer edge, + clear, - squeeze. Pitch: + front up; roll: + right side up. Carried: the load that the back holds up of the load applied. Blades: how far back from where they stood. Each moment settles by itself: no inertia, no muscle, no skin sliding.';
const RULE_OF_THUMB =
  'Rule of thumb, common practice, no source: with the leg forward 5 mm or more stay clear over a pad, 10 to 20 mm without one.';
const CLEAR_LEGEND =
  'Bearing: underside between the flares, both bars. Contact, mean and 95th percentile: standing. A longer or higher tip leaves less to bear on; what is given up there has to be carried elsewhere.';

function strideLines({ blades, stride }: ShoulderResult): string[] {
  const { heightLeftMm, heightRightMm, swingMm, assumed } = blades;
  const from = (what: 'height' | 'swing'): string =>
    assumed.includes(what) ? "assumed: an average horse's, the back says nothing" : 'as the back says';
  const swing =
    stride.swingLeftMm === swingMm && stride.swingRightMm === swingMm
      ? `${shown(swingMm)} mm (${from('swing')})`
      : `${shown(stride.swingLeftMm)} mm, as asked (${shown(swingMm)} mm ${from('swing')})`;
  return [
    `Blades: raised patches of ${shown(heightLeftMm)} mm left and ${shown(heightRightMm)} mm right (${from('height')}), their rear edges swing back ${swing}, rising ${shown(stride.riseMm)} mm.`,
    'The way of the blade is assumed: out and back along a cosine, the right leg half a stride after the left, as at walk and trot.',
  ];
}

const gaps = ({ innerGapMm, bearingGapMm, outerGapMm }: StridePhase['tips'][number]): string =>
  [innerGapMm, bearingGapMm, outerGapMm].map((gap) => cell(gap, 1)).join('/');

const signed = (value: number, decimals: number): string => {
  const text = cell(value, decimals);
  return Number(text) > 0 ? `+${text}` : text;
};

function phaseTable({ standing, phases }: ShoulderRun): string {
  const row = (name: string, m: StridePhase): string[] => [
    name,
    `${cell(m.bladeLeftMm, 0)}/${cell(m.bladeRightMm, 0)}`,
    ...m.tips.map(gaps),
    m.tips.map((tip) => cell(tip.highestPressureKPa, 1)).join('/'),
    cell(m.contact.p95PressureKPa, 1),
    signed(m.pitchDeg, 2),
    signed(m.rollDeg, 2),
    `${cell(m.supportedN, 1)} of ${cell(m.appliedN, 1)}`,
    m.status === 'settled' ? '' : m.status,
  ];
  return tableText([
    [
      ...['phase', 'blades L/R mm', 'left tip gap mm', 'right tip gap mm', 'under tips L/R kPa', 'p95 kPa'],
      ...['pitch deg', 'roll deg', 'carried N', ''],
    ],
    row('standing', standing),
    ...phases.map((moment) => row(moment.phase.toFixed(3), moment)),
  ]);
}

const clearance = (gap: number | null): string => {
  if (gap === null) return 'no data';
  return gap < 0 ? `${cell(-gap, 1)} mm of squeeze` : `${cell(gap, 1)} mm clear`;
};

/** The worst moments against standing, one sentence for clearance and one for pressure. */
export function worstLines({ worst, phases }: ShoulderRun): string[] {
  const at = (phase: number | null): string => {
    const moment = phases.find((one) => one.phase === phase);
    if (moment === undefined) return '';
    const { bladeLeftMm, bladeRightMm } = moment;
    return `phase ${moment.phase.toFixed(3)} (left blade ${cell(bladeLeftMm, 0)} mm back, right ${cell(bladeRightMm, 0)})`;
  };
  const isCloserStanding =
    worst.leastGapMm !== null && worst.leastGapStandingMm !== null && worst.leastGapStandingMm < worst.leastGapMm;
  const nearest =
    worst.leastGapMm === null
      ? 'The front tips lie off the data: nothing can be said of their clearance.'
      : `The front tips come closest at ${at(worst.leastGapPhase)}: ${clearance(worst.leastGapMm)} at the ${worst.leastGapSide} tip edge, against ${clearance(worst.leastGapStandingMm)} standing${isCloserStanding ? ': closer still than at any moment of the stride' : ''}.`;
  return [
    nearest,
    `They press hardest at ${at(worst.highestPressurePhase)}: ${cell(worst.highestPressureKPa, 1)} kPa under the ${worst.highestPressureSide} tip, against ${cell(worst.highestPressureStandingKPa, 1)} kPa standing.`,
  ];
}

function creptTable(own: ShoulderRun, crept: ShoulderRun): string {
  const least = (m: StridePhase): string => m.tips.map((tip) => cell(tipEdgeGapMm(tip), 1)).join('/');
  const press = (m: StridePhase): string => m.tips.map((tip) => cell(tip.highestPressureKPa, 1)).join('/');
  const pitch = (m: StridePhase): string => signed(m.pitchDeg, 2);
  const row = (name: string, a: StridePhase, b: StridePhase): string[] => [
    name,
    ...[least, press, pitch].flatMap((figure) => [figure(a), figure(b)]),
  ];
  const heads = ['least gap L/R mm', 'under tips L/R kPa', 'pitch deg'];
  return tableText([
    ['phase', ...heads.flatMap((head) => [head, 'crept'])],
    row('standing', own.standing, crept.standing),
    ...own.phases.map((moment, i) => row(moment.phase.toFixed(3), moment, crept.phases[i]!)),
  ]);
}

function clearTable({ present, options }: NonNullable<ShoulderResult['clear']>): string {
  const less = (value: number, before: number, decimals: number): string =>
    `${cell(value, decimals)} (${signed(value - before, decimals)})`;
  const row = (name: string, o: TipOption): string[] => [
    name,
    cell(o.liftMm, 1),
    cell(o.leastGapMm, 1),
    cell(o.highestPressureKPa, 1),
    less(o.bearingCm2, present.bearingCm2, 0),
    less(o.contactCm2, present.contactCm2, 0),
    less(o.meanPressureKPa, present.meanPressureKPa, 1),
    less(o.p95PressureKPa, present.p95PressureKPa, 1),
  ];
  return tableText([
    ['zone mm', 'lift mm', 'least gap mm', 'under tips kPa', 'bearing cm2', 'contact cm2', 'mean kPa', 'p95 kPa'],
    row(`${cell(present.zoneMm, 0)}, as it is`, present),
    ...options.map(({ zoneMm, option }) =>
      option === null
        ? [cell(zoneMm, 0), `no lift up to ${MOST_LIFT_MM} mm leaves so much`]
        : row(cell(zoneMm, 0), option),
    ),
  ]);
}
