import { BAND_FIGURE_NAMES, type BandFigure } from '@barwright/geometry';
import type { SureResult } from '../commands/sure.ts';
import type { Io } from '../io.ts';
import { SHORT_CAUTION } from './cautions.ts';
import type { Warning } from './envelope.ts';
import { plainText } from './plain-text.ts';
import { cell, tableText, wrapText } from './table.ts';

/** Name, unit, factor and decimals of each figure. */
const FIGURES: Readonly<Record<BandFigure, readonly [string, string, number, number]>> = {
  meanPressureKPa: ['mean pressure', 'kPa', 1, 1],
  p95PressureKPa: ['95th percentile', 'kPa', 1, 1],
  peakPressureKPa: ['peak', 'kPa', 1, 1],
  areaCm2: ['contact area', 'cm2', 1, 0],
  shareFront: ['front third', '%', 100, 0],
  shareMiddle: ['middle third', '%', 100, 0],
  pitchDeg: ['pitch', 'deg', 1, 2],
  rollDeg: ['roll', 'deg', 1, 2],
  lengthwiseLeftMm: ['lengthwise, left', 'mm', 1, 1],
  lengthwiseRightMm: ['lengthwise, right', 'mm', 1, 1],
  slopeFrontDeg: ['slope, first station', 'deg', 1, 1],
  slopeRearDeg: ['slope, last station', 'deg', 1, 1],
  tipGapMm: ['least front tip gap', 'mm', 1, 1],
  spineAtForkMm: ['spine under the fork', 'mm', 1, 0],
};

/** Bands with what they come from, findings by how many drawn horses show them, and what to measure again. */
export function printSure(result: SureResult, warnings: readonly Warning[], io: Io): void {
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  const { pattern, back, draws, seed, confidence, uncertaintyMm, uncertaintyDeg, setPositionBandMm } = result;
  io.stderr(`\n${plainText(`${pattern} on ${back}`)}\n`);
  paragraph(
    `${draws} horses drawn that these measurements could have come from (${uncertaintyMm} mm and ${uncertaintyDeg} deg, read as 95 of 100 repeats), set within ${setPositionBandMm} mm either way, seed ${seed}. Bands hold ${100 * confidence} of 100.`,
  );
  const rows = BAND_FIGURE_NAMES.flatMap((name) => {
    const band = result.bands[name];
    if (band === undefined) return [];
    const [words, unit, factor, decimals] = FIGURES[name];
    const text = (value: number): string => cell(factor * value, decimals);
    const most = band.from.reduce((a, b) => (b.share > a.share ? b : a));
    return [
      [
        `${words} ${unit}`,
        text(band.value),
        text(band.low),
        text(band.high),
        `${most.source} ${cell(100 * most.share, 0)} %`,
      ],
    ];
  });
  io.stderr('\n');
  if (rows.length === 0) paragraph('No band: the tree did not settle on the back as measured, or too few draws did.');
  else io.stderr(tableText([['', 'measured', 'low', 'high', 'most of the width from'], ...rows]));
  io.stderr('\nFindings\n');
  if (result.findings.length === 0)
    paragraph('None shown, nor by more than 5 of 100 drawn horses. That is not a verdict.');
  for (const { sentence } of result.findings) paragraph(sentence);
  if (result.advice !== null) paragraph(result.advice);
  for (const { sentence } of warnings) paragraph(`Note: ${sentence}`);
  io.stderr(`\n${wrapText(SHORT_CAUTION, '')}\n`);
}
