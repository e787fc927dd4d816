import type { BackSurface, GiveStudy } from '@barwright/geometry';
import type { FitInputs } from '../inputs/fit-inputs.ts';
import type { Io } from '../io.ts';
import { SHORT_CAUTION } from './cautions.ts';
import type { Warning } from './envelope.ts';
import { flexRows, largestMoves, tipLoadN } from './flex-rows.ts';
import { plainText } from './plain-text.ts';
import { assumptionLines } from './print-fit.ts';
import { cell, tableText, wrapText } from './table.ts';

const LEGEND =
  'Tips: load on all four tips. Middle: clearance under the middle of the bearing line, loaded, - squeezed. Tip move and give: largest move of a front tip and between fork and cantle, + away from the horse. Strain: at the tips, beside the limit below.';

/** The answer first, then all variants on one scale, the loaded shape, ride give, and what it all rests on. */
export function printFlex(
  study: GiveStudy,
  warnings: readonly Warning[],
  inputs: FitInputs,
  surface: BackSurface,
  io: Io,
): void {
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  const heading = (text: string): void => io.stderr(`\n${text}\n`);
  io.stderr(`\n${plainText(`${inputs.title}: what gives`)}\n`);
  for (const line of assumptionLines(inputs.documents.setup, surface.measured, inputs.changes)) paragraph(line);
  heading('In words');
  for (const sentence of study.reading) paragraph(sentence);
  io.stderr(`\n${variantsTable(study)}`);
  paragraph(LEGEND);
  paragraph(strainLine(study));
  io.stderr(`\n${shapeTable(study)}`);
  io.stderr(`\n${rideTable(study)}`);
  paragraph(
    'At rest under each load; damping is not modelled. The work of the weight on its way equals what is stored.',
  );
  heading('Assumed');
  for (const line of study.assumptions) paragraph(line);
  if (warnings.length > 0) heading('Notes');
  for (const { field, sentence } of warnings) paragraph(`${field}: ${sentence}`);
  io.stderr(`\n${wrapText(SHORT_CAUTION, '')}\n`);
}

function variantsTable(study: GiveStudy): string {
  const rows = flexRows(study);
  return tableText([
    [
      '',
      'area cm2',
      'mean kPa',
      'p95 kPa',
      'peak kPa',
      'tips N',
      'middle mm',
      'tip move mm',
      'give mm',
      'strain %',
      '',
    ],
    ...rows.map(({ name, figures: f }) => {
      const moves = largestMoves(f);
      const or = (value: number | null | undefined, digits: number): string =>
        value == null ? '-' : cell(value, digits);
      return [
        plainText(name),
        cell(f.areaCm2, 0),
        ...[f.meanKPa, f.p95KPa, f.peakKPa].map((value) => cell(value, 1)),
        cell(tipLoadN(f), 0),
        or(f.middleGapMm, 1),
        or(moves?.tipMm, 2),
        or(moves?.middleMm, 2),
        or(moves?.strainPercent, 2),
        f.status === 'settled' ? '' : f.status,
      ];
    }),
  ]);
}

function strainLine({ flexible }: GiveStudy): string {
  const tip = flexible?.flex?.bars[0].tips[0];
  if (tip === undefined) return 'No tip strain: the tree did not settle with flexible bars.';
  const limit = tip.strainLimitPercent === null ? 'no limit known' : `limit ${tip.strainLimitPercent} %`;
  return `Strain of the tips: ${limit} (${tip.strainSource}). Fatigue is not modelled.`;
}

function shapeTable({ loadedShape: shape }: GiveStudy): string {
  const pair = (a: number | null, b: number | null, digits: number): string[] =>
    [a, b].map((value) => (value === null ? '-' : cell(value, digits)));
  if (shape === null) return '';
  return tableText([
    ['measured', 'bare', 'loaded'],
    ...shape.stations.map((s) => [`angle, ${s.name}, deg`, ...pair(s.angleDeg, s.angleLoadedDeg, 2)]),
    ['twist, deg', ...pair(shape.twistDeg, shape.twistLoadedDeg, 2)],
    ['sag of the bearing line, mm', ...pair(shape.sagMm, shape.sagLoadedMm, 2)],
  ]);
}

const rideTable = ({ rideGive }: GiveStudy): string =>
  tableText([
    ['weight times', 'seat travel mm', 'stored J', 'in bars J', 'work J'],
    ...rideGive.map((row) => [
      cell(row.factor, 1),
      cell(row.seatTravelMm, 1),
      ...[row.storedNmm, row.inBarsNmm, row.workNmm].map((value) => cell(value / 1000, 2)),
    ]),
  ]);
