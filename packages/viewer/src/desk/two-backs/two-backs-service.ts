import {
  type BackChange,
  type BackDocument,
  type BackSurface,
  buildBack,
  CAUTIONS,
  changeOfBack,
  drawChangeMap,
  InputError,
  type KeepOut,
  READ_LIMITS,
  type RegionChange,
  type RemeasureDue,
  readBack,
  readMesh,
  remeasureDue,
  type TriangleMesh,
} from '@barwright/geometry';
import { loadDecoders } from '../../files/load-decoders.ts';
import type { OpenedBack } from '../../state/documents.ts';

/** One sixth of the back. */
export type Sixth = `${'left' | 'right'} ${'front' | 'middle' | 'rear'}`;

/** A back as the desk lists it: `id` is its place in the list, `key` the same for the same back only. */
export interface ListedBack {
  readonly id: string;
  readonly key: string;
  readonly back: OpenedBack;
}

export interface ComparisonWish {
  readonly align: 'landmarks' | 'best fit';
  /** Known to have changed, or not to be trusted: left out of the best fit. */
  readonly leaveOut: readonly Sixth[];
  /** Ends of the colours, mm; fixed by the user. */
  readonly endsMm: number;
  readonly todayIso: string;
}

/** Both silhouettes on one grid: heights row by row, NaN where there is no data. */
export interface Silhouettes {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  readonly beforeMm: Float64Array;
  readonly afterMm: Float64Array;
  readonly limitMm: Float64Array;
}

export interface ComparedSide {
  readonly name: string;
  readonly on: string;
  readonly by: string;
  readonly uncertaintyMm: number;
  readonly uncertaintyDeg: number;
  readonly warnings: readonly string[];
}

export interface TwoBacksView {
  /** The very sheet that is printed. */
  readonly svg: string;
  readonly regions: readonly RegionChange[];
  readonly doubts: readonly string[];
  readonly sentences: readonly string[];
  readonly silhouettes: Silhouettes;
  readonly before: ComparedSide;
  readonly after: ComparedSide;
  /** Of the later of the two; null where its date is no day of the calendar. */
  readonly due: RemeasureDue | null;
}

interface Built {
  readonly back: BackSurface;
  readonly document: BackDocument;
}

function dueOf(back: BackSurface, todayIso: string): RemeasureDue | null {
  try {
    return remeasureDue(back, todayIso);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

const MOST_HELD = 4;
const built = new Map<string, Built>();
let last: { readonly key: string; readonly change: BackChange } | null = null;

export const twoBacksService = {
  /** What changed from one back to the other. Backs and the comparison are kept, so that colours and views change at once. */
  async compareTwoBacks(before: ListedBack, after: ListedBack, wish: ComparisonWish): Promise<TwoBacksView> {
    const [a, b] = [await build(before), await build(after)];
    const endXMm = Math.min(a.back.landmarks.lastRib[0], b.back.landmarks.lastRib[0]);
    const key = JSON.stringify([before.key, after.key, wish.leaveOut]);
    if (last?.key !== key) {
      const keepOut = wish.leaveOut.map((sixth) => rectangleOf(sixth, endXMm));
      last = {
        key,
        change: changeOfBack({ back: a.back, facts: a.document }, { back: b.back, facts: b.document }, keepOut),
      };
    }
    const { change } = last;
    const shown = wish.align === 'landmarks' ? change.landmarks : change.bestFit;
    const svg = drawChangeMap(
      change,
      { before: a.back, after: b.back },
      {
        drawnOn: wish.todayIso,
        cautions: CAUTIONS.map(({ full }) => full),
        align: wish.align,
        scale: { lowerMm: wish.endsMm, fullerMm: wish.endsMm },
      },
    );
    return {
      svg,
      regions: change.regions,
      doubts: change.doubts,
      sentences: shown.sentences,
      silhouettes: silhouettesOf(shown),
      before: sideOf(a),
      after: sideOf(b),
      due: dueOf(b.back, wish.todayIso),
    };
  },
};

async function build({ key, back }: ListedBack): Promise<Built> {
  const known = built.get(key);
  if (known !== undefined) return known;
  const document = readBack(back.json, back.name);
  const mesh = back.mesh === null ? null : await readScan(back.mesh);
  const made = { document, back: buildBack(document, mesh === null ? {} : { mesh }) };
  built.set(key, made);
  const [oldest] = built.keys();
  if (built.size > MOST_HELD && oldest !== undefined) built.delete(oldest);
  return made;
}

const readScan = async ({ bytes, fileName }: NonNullable<OpenedBack['mesh']>): Promise<TriangleMesh> =>
  readMesh(bytes, fileName, READ_LIMITS, await loadDecoders(bytes)).mesh;

const FAR_MM = 1000;

function rectangleOf(sixth: Sixth, endXMm: number): KeepOut {
  const [side, third] = sixth.split(' ') as ['left' | 'right', 'front' | 'middle' | 'rear'];
  const at = ['front', 'middle', 'rear'].indexOf(third);
  return {
    fromXMm: (at * endXMm) / 3,
    toXMm: ((at + 1) * endXMm) / 3,
    fromYMm: side === 'left' ? -FAR_MM : 0,
    toYMm: side === 'left' ? 0 : FAR_MM,
  };
}

function silhouettesOf({ rows }: BackChange['bestFit']): Silhouettes {
  const of = (pick: (row: (typeof rows)[number]) => number): Float64Array => Float64Array.from(rows, pick);
  return {
    xMm: Float64Array.from(new Set(rows.map(({ xMm }) => xMm))),
    yMm: Float64Array.from(new Set(rows.map(({ yMm }) => yMm))),
    beforeMm: of(({ beforeMm }) => beforeMm),
    afterMm: of(({ afterMm }) => afterMm),
    limitMm: of(({ limitMm }) => limitMm),
  };
}

const sideOf = ({ back: { name, measured, warnings } }: Built): ComparedSide => ({ name, ...measured, warnings });
