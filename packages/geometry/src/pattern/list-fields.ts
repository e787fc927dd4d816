import { BAR_FIELDS, type FieldSpec, STATION_FIELDS, type StationFieldSpec } from './pattern-fields.ts';

export interface StationPlace {
  readonly name: string;
  readonly atPercent: number;
}

export interface PatternField extends FieldSpec {
  /** Set for a station quantity: its station, and the quantity's own name. */
  readonly station?: string;
  readonly quantity?: string;
}

const DEFAULT_AT = [20, 50, 80] as const;

/** Every value a pattern with these stations has: station quantities from front to rear, then the whole bar's. */
export function listPatternFields(stations: readonly StationPlace[]): PatternField[] {
  const sorted = [...stations].sort((a, b) => a.atPercent - b.atPercent);
  const perStation = STATION_FIELDS.flatMap((spec) => sorted.map((station) => stationField(spec, station)));
  return [...perStation, ...BAR_FIELDS];
}

/** Key of a station quantity: `slope` at `front` is `slopeFront`. */
export function stationKey(quantity: string, station: string): string {
  return quantity + station.charAt(0).toUpperCase() + station.slice(1);
}

function stationField(spec: StationFieldSpec, station: StationPlace): PatternField {
  const { defaults, ...rest } = spec;
  const key = stationKey(spec.key, station.name);
  return {
    ...rest,
    key,
    label: `${spec.label}, ${station.name}`,
    default:
      typeof defaults === 'function' ? defaults(stationKey('', station.name)) : between(defaults, station.atPercent),
    group: 'stations',
    perSide: true,
    station: station.name,
    quantity: spec.key,
  };
}

/** Linear between 20, 50 and 80 %, constant beyond. */
function between(values: readonly [number, number, number], atPercent: number): number {
  const from = atPercent < DEFAULT_AT[1] ? 0 : 1;
  const share = (atPercent - DEFAULT_AT[from]) / (DEFAULT_AT[from + 1]! - DEFAULT_AT[from]);
  const clamped = Math.min(1, Math.max(0, share));
  return values[from] + clamped * (values[from + 1]! - values[from]);
}
