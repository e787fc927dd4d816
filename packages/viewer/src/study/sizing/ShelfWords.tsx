import { shelfSchema } from '@barwright/geometry';
import { SIZING_TEXTS } from '../../look/texts/sizing.ts';

const T = SIZING_TEXTS.shelf;

/** What a shelf's document means where it says nothing. */
const DEFAULT_BAR_LENGTH = shelfSchema.shape.barLength.parse(undefined);

interface Labelled {
  readonly label: string;
  readonly bars?: string;
  readonly materials?: Readonly<Record<string, string>>;
  readonly values?: Readonly<Record<string, string | number>>;
  readonly thicknessMm?: number;
  readonly stiffnessKPaPerMm?: number;
}

/** A shelf that was read once already, as it is written. */
export interface ShelfJson {
  readonly pattern: string;
  readonly barLength?: string;
  readonly widths: readonly Labelled[];
  readonly seats: readonly (string | number)[];
  readonly tips: readonly Labelled[];
  readonly pads?: readonly Labelled[];
  readonly skirts?: readonly Labelled[];
}

/** What the shelf holds, in words: its sizes and the layers it brings. */
export function ShelfWords({ json }: { json: ShelfJson }) {
  const layers = (list: readonly Labelled[] | undefined): string =>
    (list ?? []).map((one) => T.layer(one.label, one.thicknessMm, one.stiffnessKPaPerMm)).join('; ');
  const valued = (list: readonly Labelled[]) =>
    list.map(({ label, values, bars, materials }) => (
      <li key={label}>
        <strong>{label}</strong>:{' '}
        {[
          ...(bars === undefined ? [] : [T.bars(bars)]),
          ...Object.entries({ ...values, ...materials }).map(([key, value]) => `${key} ${value}`),
        ].join(', ')}
      </li>
    ));
  return (
    <details className="shelf-words small">
      <summary>{T.counts(json.seats.length, json.widths.length, json.tips.length)}</summary>
      <p>{T.from(json.pattern, json.barLength ?? DEFAULT_BAR_LENGTH, json.seats.map(seatText).join(', '))}</p>
      <ul>{valued(json.widths)}</ul>
      <ul>{valued(json.tips)}</ul>
      <p>
        {layers(json.pads) === '' ? T.noPads : T.pads(layers(json.pads))}
        {layers(json.skirts) !== '' && ` ${T.skirts(layers(json.skirts))}`}
      </p>
    </details>
  );
}

const seatText = (seat: string | number): string => (typeof seat === 'number' ? T.seat(seat) : seat);
