import {
  buildTree,
  CAUTIONS,
  drawTakeOff,
  type PatternDocument,
  parseJson,
  readPattern,
  resolvePattern,
  type TakeOffAlign,
  type TakeOffStep,
  type Tree,
  takeOff,
  takeOffAt,
  takeOffWords,
} from '@barwright/geometry';

/** The other pattern: a document of the bench or the demos, or the text of an opened file. */
export type OtherPattern =
  | { readonly kind: 'json'; readonly json: unknown }
  | { readonly kind: 'file'; readonly fileName: string; readonly text: string };

export interface TakeOffWish {
  readonly bench: PatternDocument;
  readonly other: OtherPattern;
  readonly otherIsCarved: boolean;
  readonly align: TakeOffAlign;
  readonly raised: boolean;
  readonly step: TakeOffStep;
  readonly drawnOn: string;
}

const PLACES = ['inner', 'middle', 'outer'] as const;
const ACROSS = { inner: -1, middle: 0, outer: 1 } as const;

/** Depths at one station of the carved bars, mm: + off, - to be added, NaN past the wanted outline. */
export interface StationDepths {
  readonly name: string;
  readonly left: readonly number[];
  readonly right: readonly number[];
}

export interface TakeOffView {
  readonly svg: string;
  readonly carved: string;
  readonly wanted: string;
  readonly words: { readonly left: string; readonly right: string };
  readonly stations: readonly StationDepths[];
  readonly raiseMm: number;
  readonly raiseForNoneAddedMm: number;
}

const treeOf = (document: PatternDocument): Tree => buildTree(resolvePattern(document));

function readOther(other: OtherPattern): PatternDocument {
  if (other.kind === 'json') return readPattern(other.json);
  return readPattern(parseJson(other.text, other.fileName), other.fileName);
}

/** Depths at every station of the carved tree, at inner edge, middle and outer edge. */
export function stationDepths(carved: Tree, wanted: Tree, align: TakeOffAlign, raiseMm = 0): StationDepths[] {
  const at = (side: 'left' | 'right', i: number): number[] =>
    PLACES.map((place) =>
      takeOffAt(
        carved,
        wanted,
        { side, bMm: carved[side].shape.stations[i]!.atMm, t: ACROSS[place] },
        { align, raiseMm },
      ),
    );
  return carved.right.shape.stations.map(({ name }, i) => ({ name, left: at('left', i), right: at('right', i) }));
}

export const takeOffService = {
  /** The wood between the bench's pattern and another one, with its sheet. */
  takeOff(wish: TakeOffWish): TakeOffView {
    const { bench, align, raised, step, drawnOn } = wish;
    const other = readOther(wish.other);
    const [from, to] = wish.otherIsCarved ? [other, bench] : [bench, other];
    const [carved, wanted] = [treeOf(from), treeOf(to)];
    const level = takeOff(carved, wanted, { align });
    const raiseMm = raised ? level.raiseForNoneAddedMm : 0;
    const map = raiseMm > 0 ? takeOff(carved, wanted, { align, raiseMm }) : level;
    const svg = drawTakeOff(map, {
      step,
      carvedName: from.name,
      wantedName: to.name,
      drawnOn,
      cautions: CAUTIONS.map(({ full }) => full),
      stations: carved.right.shape.stations.map(({ name, atMm }) => ({ name, bMm: atMm })),
    });
    return {
      svg,
      carved: from.name,
      wanted: to.name,
      words: { left: takeOffWords(map.left, step), right: takeOffWords(map.right, step) },
      stations: stationDepths(carved, wanted, align, raiseMm),
      raiseMm,
      raiseForNoneAddedMm: map.raiseForNoneAddedMm,
    };
  },
};
