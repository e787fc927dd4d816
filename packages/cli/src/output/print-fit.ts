import { type ContactFigures, type Fit, type FitResult, layerWords, type Setup, shimWords } from '@barwright/geometry';
import type { FitDocument } from '../commands/fit.ts';
import type { FitInputs } from '../inputs/fit-inputs.ts';
import type { Io } from '../io.ts';
import { SHORT_CAUTION } from './cautions.ts';
import { plainText } from './plain-text.ts';
import { cell, shown, tableText, wrapText } from './table.ts';

/** The table and the reading for people. Area and mean never stand without p95, peak and thirds. */
export function printFit(document: FitDocument, inputs: FitInputs, { seated }: Fit, io: Io): void {
  const { result } = document;
  const bold = (text: string): string => (io.bold ? `\u001b[1m${text}\u001b[22m` : text);
  const heading = (text: string): void => io.stderr(`\n${bold(text)}\n`);
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  io.stderr(`\n${bold(plainText(inputs.title))}: ${result.status}\n`);
  for (const line of assumptionLines(inputs.documents.setup, seated.back.measured, inputs.changes)) paragraph(line);
  for (const line of materialLines(result.materials)) paragraph(line);
  heading('Contact');
  io.stderr(contactTable(result.contact));
  heading('Shape');
  io.stderr(shapeTable(result));
  heading('Reading');
  if (result.findings.length === 0) paragraph('Nothing found beyond the rules in use. That is not a verdict.');
  for (const finding of result.findings) paragraph(finding.sentence);
  if (result.capacity !== null) {
    heading('Tree bearing capacity');
    for (const line of capacityLines(result.capacity)) paragraph(line);
  }
  heading('How far to trust it');
  for (const line of accuracyLines(result)) paragraph(line);
  for (const { sentence } of document.warnings) paragraph(`Note: ${sentence}`);
  for (const outcome of document.requirements) {
    const value = typeof outcome.value === 'number' ? outcome.value.toPrecision(5) : (outcome.value ?? 'no data');
    paragraph(`${outcome.met ? 'Met' : 'NOT MET'}: ${outcome.condition} (is ${value})`);
  }
  io.stderr(`\n${wrapText(SHORT_CAUTION, '')}\n`);
}

/** What a fit rests on, a line each: back, load, layers, changes. */
export function assumptionLines(
  setup: Setup,
  measured: Fit['seated']['back']['measured'],
  changes: FitInputs['changes'],
): string[] {
  const { load } = setup;
  const at = load.at === 'seat' ? "the seat's low point" : `${load.at} % of bar length`;
  const slope = load.riseDeg === 0 ? '' : `, ${load.riseDeg > 0 ? 'uphill' : 'downhill'} ${Math.abs(load.riseDeg)} deg`;
  const pulls = load.pulls.map((pull) => `; ${plainText(pull.name)} ${pull.downN} N down`).join('');
  const layers = setup.layers.map((l) => `${l.name} ${layerWords(l)}`);
  return [
    `Back measured ${measured.on} by ${measured.by}, to about ${measured.uncertaintyMm} mm and ${measured.uncertaintyDeg} deg.`,
    `Load: rider ${shown(load.riderKg)} kg and saddle ${shown(load.saddleKg)} kg, times ${load.factor}, at ${at}${slope}${pulls}. Set position ${setup.setPositionMm} mm.`,
    `Layers from the horse outward: ${layers.join('; ')}.`,
    ...(setup.shims.length === 0 ? [] : [plainText(`Shims: ${setup.shims.map(shimWords).join('; ')}.`)]),
    ...(changes.length === 0 ? [] : [`Changed: ${changes.map(([key, value]) => `${key} = ${value}`).join('; ')}.`]),
  ];
}

/** Every material that the result rests on: value after warmth and time, span of the untouched one, source. */
function materialLines(materials: FitResult['materials']): string[] {
  return materials
    .filter(({ range }) => range !== null)
    .map(({ part, material, value, unit, range, source }) => {
      const span = `span ${range![0]} to ${range![1]} untouched`;
      return `Material of ${part}: ${material}, ${shown(Number(value.toPrecision(3)))} ${unit} (${span}; ${source}).`;
    });
}

function contactTable(c: ContactFigures): string {
  const share = (value: number): string => cell(100 * value, 0);
  return tableText([
    ['', 'left', 'right', 'front', 'middle', 'rear', 'all'],
    ['load share %', ...[c.shareLeft, c.shareRight, c.shareFront, c.shareMiddle, c.shareRear].map(share), '100'],
    ['contact cm2', ...[c.areaLeftCm2, c.areaRightCm2, ...c.areaByThirdCm2, c.areaCm2].map((value) => cell(value, 0))],
    ['mean kPa', '', '', ...c.meanByThirdKPa.map((value) => cell(value, 1)), cell(c.meanPressureKPa, 1)],
    ['95th percentile kPa', '', '', '', '', '', cell(c.p95PressureKPa, 1)],
    [`peak over ${c.averagingCellCm2} cm2, kPa`, '', '', '', '', '', cell(c.peakPressureKPa, 1)],
  ]);
}

function shapeTable({ mismatch, pose, gap, spine }: FitResult): string {
  const names = [...new Set(mismatch.stations.map(({ name }) => name))];
  const at = (side: string, name: string): string =>
    cell(mismatch.stations.find((s) => s.side === side && s.name === name)?.mismatchDeg ?? null, 1);
  const crosswise = names.map((name) => [
    `slope mismatch at ${name}, deg (+ bar too steep)`,
    at('left', name),
    at('right', name),
  ]);
  return (
    tableText([
      ['', 'left', 'right'],
      [
        'lengthwise mismatch mm (+ bridges, - rocks)',
        cell(mismatch.lengthwiseLeftMm, 1),
        cell(mismatch.lengthwiseRightMm, 1),
      ],
      ...crosswise,
    ]) +
    `  clearance ${cell(gap.minMm, 1)} to ${cell(gap.maxMm, 1)} mm (- squeeze); at the middle ${cell(gap.middleMm, 1)} mm\n` +
    `  pitch ${cell(pose.pitchDeg, 2)} deg (+ front up), roll ${cell(pose.rollDeg, 2)} deg (+ right side up)\n` +
    `  spine clearance at the fork ${cell(spine.atForkMm, 0)} mm, elsewhere ${cell(spine.alongMm, 0)} mm; channel ${cell(spine.channelMm, 0)} mm\n`
  );
}

function capacityLines(capacity: NonNullable<FitResult['capacity']>): string[] {
  const load = (newtons: number | null): string => (newtons === null ? 'not reached' : `${cell(newtons, 0)} N`);
  const solved = capacity.solved.map(
    (s) => `at ${s.loadAtPercent} %: mean limit ${load(s.meanN)}, peak limit ${load(s.peakN)}`,
  );
  return [
    `Rule of thumb, ${capacity.ruleOfThumbPsi} psi over ${cell(capacity.coreProjectionCm2, 0)} cm2 of core zone: ${load(capacity.ruleOfThumbN)}.`,
    `Solved, load ${solved.join('; ')}.`,
    'This is what the tree bears on this surface before a figure reaches its limit. It is not permission for a rider of that weight.',
  ];
}

function accuracyLines({ accuracy, coverage, load, stability }: FitResult): string[] {
  const grid =
    accuracy.gridErrorPercent === null
      ? ''
      : ` Halving the grid changes area, mean and p95 by at most ${cell(accuracy.gridErrorPercent, 2)} %.`;
  const unstable = stability.lowestEigenvalue < 0 ? ' Without friction it would slide from here.' : '';
  return [
    `Path ${accuracy.path}: within ${cell(accuracy.boundMm, 3)} mm (${cell(accuracy.boundKPa, 3)} kPa) of the exact one.${grid}`,
    `Load ${cell(load.appliedN, 1)} N, supported ${cell(load.supportedN, 1)} N. Left out for want of data: ${cell(100 * coverage.excludedFraction, 1)} %.${unstable}`,
  ];
}
