import { measureTree } from '../bar/index.ts';
import type { SeatedTree } from '../seating/index.ts';

/** One station of the pattern, bare and loaded. Degrees and mm. */
export interface LoadedStation {
  readonly name: string;
  readonly bMm: number;
  readonly angleDeg: number;
  readonly angleLoadedDeg: number;
  readonly spreadMm: number;
  readonly spreadLoadedMm: number;
}

/** What the load makes of angle, twist and rock; means of both bars. */
export interface LoadedShape {
  readonly stations: readonly LoadedStation[];
  readonly twistDeg: number | null;
  readonly twistLoadedDeg: number | null;
  /** Sag of the bearing line over its measured chord. */
  readonly sagMm: number | null;
  readonly sagLoadedMm: number | null;
  /** Largest change of the included angle at the pattern's stations, + wider under load. */
  readonly angleChangeDeg: number;
}

/** Measures the underside as made and as it bears, by the same definitions. Throws InputError as measureTree does. */
export function loadedShape({ tree, loaded }: SeatedTree): LoadedShape {
  const stations = tree.right.shape.stations.map(({ name, atMm }) => ({ name, bMm: atMm }));
  const [bare, bent] = [measureTree(tree, { stations }), measureTree(loaded, { stations })];
  const rows = bare.pairs.map((pair, i): LoadedStation => {
    const other = bent.pairs[i]!;
    return {
      name: pair.name,
      bMm: pair.bMm,
      angleDeg: pair.includedAngleDeg,
      angleLoadedDeg: other.includedAngleDeg,
      spreadMm: pair.spreadMm,
      spreadLoadedMm: other.spreadMm,
    };
  });
  const changes = rows.map(({ angleDeg, angleLoadedDeg }) => angleLoadedDeg - angleDeg);
  return {
    stations: rows,
    twistDeg: twistOf(bare),
    twistLoadedDeg: twistOf(bent),
    sagMm: sagOf(bare),
    sagLoadedMm: sagOf(bent),
    angleChangeDeg: changes.reduce((most, change) => (Math.abs(change) > Math.abs(most) ? change : most), 0),
  };
}

type Measured = ReturnType<typeof measureTree>;

const twistOf = ({ left, right }: Measured): number | null => mean([left?.twistDeg, right?.twistDeg]);
const sagOf = ({ left, right }: Measured): number | null =>
  mean([left, right].map((bar) => bar?.rock.find(({ line }) => line === 'bearing')?.sagMm));

function mean(values: readonly (number | null | undefined)[]): number | null {
  const known = values.filter((value): value is number => typeof value === 'number');
  return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length;
}
