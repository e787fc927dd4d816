import type { FigureParts } from './format.ts';

/** A figure with its fraction set as one and its unit a little quieter. */
export function Figure({ of }: { of: FigureParts }) {
  const { sign, number, fraction, unit } = of;
  const gap = unit === '' || unit === '°' ? '' : '\u2009';
  return (
    <span className="figure">
      {sign}
      {number}
      {fraction !== null && (
        <span className="fraction">
          {number !== '' && <span className="visually-hidden"> </span>}
          <sup>{fraction[0]}</sup>⁄<sub>{fraction[1]}</sub>
        </span>
      )}
      {unit !== '' && (
        <span className="unit">
          {gap}
          {unit}
        </span>
      )}
    </span>
  );
}
