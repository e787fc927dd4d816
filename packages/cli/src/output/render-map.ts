import { extname } from 'node:path';
import {
  drawPressureMap,
  type Fit,
  InputError,
  MAP_SCALES_DEFAULT,
  type PressureMapOptions,
} from '@barwright/geometry';
import type { FitInputs } from '../inputs/fit-inputs.ts';
import type { Io } from '../io.ts';
import { CAUTIONS } from './cautions.ts';

export interface MapFlags {
  readonly mapOf: 'clearance' | 'pressure';
  readonly mapEnds?: readonly number[];
}

/** Throws InputError 'unsupported' for an ending other than .svg and .png. */
export function mapFormat(name: string, flag = '--map'): 'svg' | 'png' {
  const ending = extname(name).toLowerCase();
  if (ending === '.svg' || ending === '.png') return ending === '.svg' ? 'svg' : 'png';
  throw new InputError({
    code: 'unsupported',
    field: flag,
    got: JSON.stringify(ending),
    expected: 'a file name that ends in .svg or .png',
    remedy: 'Change the ending',
  });
}

/** Choices of the map from the flags. Throws InputError 'usage' where the ends don't suit what is shown. */
export function mapOptions(flags: MapFlags, inputs: FitInputs, io: Io): PressureMapOptions {
  return {
    of: flags.mapOf,
    scales: readScales(flags),
    drawnOn: io.today,
    cautions: CAUTIONS,
    changes: inputs.changes.map(([key, value]) => `${key} = ${value}`),
  };
}

function readScales({ mapOf, mapEnds }: MapFlags): typeof MAP_SCALES_DEFAULT {
  if (mapEnds === undefined) return MAP_SCALES_DEFAULT;
  const wanted = mapOf === 'clearance' ? 2 : 1;
  if (mapEnds.length !== wanted) {
    throw new InputError({
      code: 'usage',
      field: '--map-ends',
      got: mapEnds.join(','),
      expected: mapOf === 'clearance' ? 'squeeze and daylight in mm, such as 12,20' : 'the most kPa, such as 40',
      remedy: `Give ${wanted === 1 ? 'one number' : 'two numbers'} with --map-of ${mapOf}`,
    });
  }
  const [first, second] = mapEnds as [number, number];
  return mapOf === 'clearance'
    ? { ...MAP_SCALES_DEFAULT, clearance: { squeezeMm: first, clearMm: second } }
    : { ...MAP_SCALES_DEFAULT, pressure: { maxKPa: first } };
}

/** The drawing as the file's ending asks for it. */
export async function renderMap(path: string, fitted: Fit, options: PressureMapOptions): Promise<string | Uint8Array> {
  const svg = drawPressureMap(fitted, options);
  if (mapFormat(path) === 'svg') return svg;
  const { renderPng } = await import('./render-png.ts');
  return renderPng(svg);
}
