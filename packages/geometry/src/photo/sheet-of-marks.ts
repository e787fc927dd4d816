import { SHEET_CORNERS, type SheetPaper, type SheetPoint, sheetTile } from '../drawing/index.ts';
import { InputError } from '../numeric/index.ts';
import type { FoundMark, SheetSearch } from './find-sheet-marks.ts';
import type { GreyImage, PixelPoint } from './grey-image.ts';
import { type Homography, homographyFromPoints } from './homography-from-points.ts';
import { type PaperPlane, refuseMirrored } from './paper-plane.ts';
import { discOffset, type FoundDisc } from './sheet-discs.ts';

export interface FoundSheet {
  readonly paper: SheetPaper;
  readonly tiles: number;
  /** Sheets of which a mark was found, from the left. */
  readonly tilesSeen: readonly number[];
  readonly marks: readonly FoundMark[];
  readonly discs: readonly FoundDisc[];
  /** Lowest confidence of its marks, less where marks are missing. */
  readonly confidence: number;
  readonly plane: PaperPlane;
}

const LEAST_MARKS = 3;
/** Further off than this, marks are not those of a flat sheet of ours, mm. */
const REFUSE_MM = 6;
/** What is said to a person: tape, paper or lens; mm. Our own rule: a third of what is to be measured within 1 mm. */
const WARN_MM = 0.35;
/** A corner is trusted no better than this, px: blur and the camera's sharpening move edges a little. Our own rule. */
const LEAST_CORNER_PX = 0.1;

type Outcome = Pick<SheetSearch, 'sheet' | 'reason' | 'missing'>;
const nothing = (reason: string, missing: readonly string[] = []): Outcome => ({ sheet: null, reason, missing });

/** A sheet from its marks: all of one kind, none twice, three or more, and lying as printed. */
export function sheetOfMarks(image: GreyImage, found: readonly FoundMark[]): Outcome {
  const placeOf = ({ identity }: FoundMark): number => 10 * identity.tile + SHEET_CORNERS.indexOf(identity.corner);
  const marks = [...found].sort((a, b) => placeOf(a) - placeOf(b));
  if (marks.length === 0) {
    return nothing(
      'No mark of a tracing sheet was found: show the whole sheet, sharp, with its black marks uncovered.',
    );
  }
  const kinds = new Set(marks.map(({ identity }) => `${identity.paper} ${identity.tiles}`));
  if (kinds.size > 1) {
    return nothing('Marks of different prints lie in one photo: photograph the sheets of one print alone.');
  }
  const names = marks.map(nameOf);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice !== undefined) {
    return nothing(`The mark ${twice} is there twice: photograph one tracing at a time.`);
  }
  const { paper, tiles } = marks[0]!.identity;
  const tilesSeen = [...new Set(marks.map((m) => m.identity.tile))].sort((a, b) => a - b);
  const missing = tilesSeen.flatMap((tile) =>
    SHEET_CORNERS.map((corner) => nameOf({ identity: { tile, corner } })).filter((name) => !names.includes(name)),
  );
  if (marks.length < LEAST_MARKS) {
    return nothing(
      `Only ${names.join(' and ')} found; missing: ${missing.join(', ')}. Three marks or more must be seen whole.`,
      missing,
    );
  }
  const fitted = fitMarks(marks);
  if (fitted === null) {
    return nothing(
      'The marks do not lie as on a flat sheet, or in one line: flatten the paper and try again.',
      missing,
    );
  }
  const discs = tilesSeen.flatMap((tile) =>
    sheetTile(paper, tiles, tile).discs.map((disc): FoundDisc => {
      return { tile, edge: disc.edge, offMm: discOffset(image, disc, fitted) };
    }),
  );
  const plane = planeOf(fitted, marks, discs, missing, { paper, tiles });
  const confidence = Math.min(...marks.map((m) => m.confidence)) * (missing.length === 0 ? 1 : 0.6);
  return { sheet: { paper, tiles, tilesSeen, marks, discs, confidence, plane }, reason: null, missing };
}

const nameOf = ({ identity }: { identity: Pick<FoundMark['identity'], 'tile' | 'corner'> }): string =>
  `${identity.corner} of sheet ${identity.tile}`;

function fitMarks(marks: readonly FoundMark[]): Homography | null {
  const image: PixelPoint[] = [];
  const paper: SheetPoint[] = [];
  for (const { identity, cornersPx } of marks) {
    const tile = sheetTile(identity.paper, identity.tiles, identity.tile);
    image.push(...cornersPx);
    paper.push(...tile.marks.find((m) => m.corner === identity.corner)!.cornersMm);
  }
  try {
    const fitted = homographyFromPoints(image, paper);
    refuseMirrored(fitted);
    return Math.max(...fitted.residualsMm) > REFUSE_MM ? null : fitted;
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

function planeOf(
  fitted: Homography,
  marks: readonly FoundMark[],
  discs: readonly FoundDisc[],
  missing: readonly string[],
  sheets: { readonly paper: SheetPaper; readonly tiles: number },
): PaperPlane {
  const freedom = 2 * fitted.residualsPx.length - 8;
  const rms = Math.sqrt(fitted.residualsPx.reduce((sum, r) => sum + r * r, 0) / freedom);
  const seen = discs.flatMap(({ offMm }) => (offMm === null ? [] : [offMm]));
  const straightnessMm = seen.length === 0 ? null : Math.max(...seen);
  const warnings: string[] = [];
  if (missing.length > 0) {
    warnings.push(`Not found: ${missing.join(', ')}. The sheet is read from its other marks, less surely near these.`);
  }
  const worst = marks.map((m, i) => ({
    name: nameOf(m),
    offMm: Math.max(...fitted.residualsMm.slice(4 * i, 4 * i + 4)),
  }));
  const far = worst.filter(({ offMm }) => offMm > WARN_MM);
  if (far.length > 0) {
    const said = far.map(({ name, offMm }) => `${name} by ${offMm.toFixed(1)} mm`).join(', ');
    const tiles = new Set(marks.map((m) => m.identity.tile)).size;
    warnings.push(
      `Marks lie off their places: ${said}. The paper is not flat, was printed in another size${tiles > 1 ? ', or the sheets are taped askew' : ''}, or the lens bends lines.`,
    );
  }
  if (straightnessMm === null) {
    warnings.push('No disc between the marks was seen: bent lines of the lens cannot be told.');
  } else if (straightnessMm > WARN_MM) {
    warnings.push(
      `Discs between the marks lie up to ${straightnessMm.toFixed(1)} mm off: the lens bends lines or the paper is not flat. This is not corrected: photograph from farther away, not wide-angle, with the paper flat.`,
    );
  }
  const cornerPx = Math.max(LEAST_CORNER_PX, rms, ...marks.map((m) => m.cornerPx));
  return { ...fitted, from: 'marks', sheets, cornerPx, straightnessMm, warnings };
}
