import { InputError, type Setup } from '@barwright/geometry';
import { countFlag, type FlagRange, lengthFlag } from './number-flags.ts';

/** What the command line says of a stride, as written. */
export interface StrideFlags {
  readonly phases?: string;
  readonly swing?: string;
  readonly rise?: string;
  readonly creep?: string;
  readonly clear?: string;
  readonly zones?: string;
}

/** The same as numbers; null where nothing was said. */
export interface StrideChoices {
  /** Changes of the back's own stride. */
  readonly stride: { phases?: number; swingLeftMm?: number; swingRightMm?: number; riseMm?: number };
  readonly creepMm: number | null;
  readonly clear: { readonly wantedMm: number; readonly zonesMm?: readonly number[] } | null;
}

const PHASES: FlagRange = { least: 2, most: 360 };
const SWING: FlagRange = { least: 0, most: 200 };
const RISE: FlagRange = { least: 0, most: 60 };
const CREEP: FlagRange = { least: -100, most: 100 };
const CLEAR: FlagRange = { least: -30, most: 60 };
const ZONE: FlagRange = { least: 20, most: 200 };
const MOST_ZONES = 6;

/** Reads the options of `shoulder`. Throws InputError naming the option. */
export function readStrideFlags(flags: StrideFlags): StrideChoices {
  const swing = flags.swing === undefined ? null : lengthFlag(flags.swing, '--swing', SWING);
  if (flags.zones !== undefined && flags.clear === undefined) {
    throw usage(
      '--zones',
      'given without --clear',
      '--clear with the clearance that is wanted',
      'Write for example --clear 5',
    );
  }
  return {
    stride: {
      ...(flags.phases === undefined ? {} : { phases: countFlag(flags.phases, '--phases', PHASES) }),
      ...(swing === null ? {} : { swingLeftMm: swing, swingRightMm: swing }),
      ...(flags.rise === undefined ? {} : { riseMm: lengthFlag(flags.rise, '--rise', RISE) }),
    },
    creepMm: flags.creep === undefined ? null : lengthFlag(flags.creep, '--creep', CREEP),
    clear:
      flags.clear === undefined
        ? null
        : {
            wantedMm: lengthFlag(flags.clear, '--clear', CLEAR),
            ...(flags.zones === undefined ? {} : { zonesMm: readZones(flags.zones) }),
          },
  };
}

function readZones(text: string): number[] {
  const zones = text.split(',').map((part) => lengthFlag(part.trim(), '--zones', ZONE));
  const isTwice = new Set(zones).size < zones.length;
  if (zones.length <= MOST_ZONES && !isTwice) return zones;
  throw usage('--zones', text.slice(0, 60), `up to ${MOST_ZONES} different lengths`, 'Leave some out');
}

/** The setup with the saddle crept forward. Throws InputError where it leaves the range of set positions. */
export function creptSetup(setup: Setup, creepMm: number): Setup {
  const setPositionMm = setup.setPositionMm - creepMm;
  if (Math.abs(setPositionMm) <= 200) return { ...setup, setPositionMm };
  throw usage(
    '--creep',
    `set position ${setPositionMm} mm`,
    'a set position of -200 to 200 mm',
    'Let it creep less far',
  );
}

function usage(field: string, got: string, expected: string, remedy: string): InputError {
  return new InputError({ code: 'usage', field, got, expected, remedy });
}
