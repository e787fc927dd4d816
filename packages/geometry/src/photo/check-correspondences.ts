import { InputError } from '../numeric/index.ts';

type Point = readonly [number, number];

/** Three points count as in a line where they are this much flatter than long: 1 in 40. */
const FLAT = 1 / 40;

const area = (a: Point, b: Point, c: Point): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

const TRIPLES = [
  [0, 1, 2],
  [0, 1, 3],
  [0, 2, 3],
  [1, 2, 3],
] as const;

/**
 * Refuses points from which no plane can be read: too few, not numbers, three of four in a line, a corner inside the
 * triangle of the others, corners in crossed order.
 * @throws InputError 'missing', 'inconsistent', 'not-a-number' or 'degenerate'
 */
export function checkCorrespondences(image: readonly Point[], paper: readonly Point[]): void {
  if (image.length !== paper.length) {
    refuse(
      'inconsistent',
      `${image.length} and ${paper.length} points`,
      'as many points in the photo as on the paper',
      'Give a place on the paper for each point',
    );
  }
  if (image.length < 4) {
    refuse(
      'missing',
      `${image.length} points`,
      'four known points or more',
      'Three points leave the tilt of the paper open: click all four corners',
    );
  }
  if (![...image, ...paper].every((p) => Number.isFinite(p[0]) && Number.isFinite(p[1]))) {
    refuse('not-a-number', 'a point without numbers', 'two numbers for each point', 'Click the corners again');
  }
  if (image.length !== 4) return;
  for (const [points, where] of [
    [paper, 'on the paper'],
    [image, 'in the photo'],
  ] as const) {
    for (const [i, j, k] of TRIPLES) {
      const [a, b, c] = [points[i]!, points[j]!, points[k]!];
      const longest = Math.max(lengthOf(a, b), lengthOf(b, c), lengthOf(a, c));
      if (Math.abs(area(a, b, c)) > FLAT * longest * longest) continue;
      refuse(
        'degenerate',
        `points ${i + 1}, ${j + 1} and ${k + 1} in a line ${where}`,
        'four corners, no three of them in a line',
        'Click four corners of the sheet, or photograph it less from the side',
      );
    }
  }
  const signs = TRIPLES.map(([i, j, k]) =>
    Math.sign(area(image[i]!, image[j]!, image[k]!) * area(paper[i]!, paper[j]!, paper[k]!)),
  );
  if (signs.every((s) => s === signs[0])) return;
  if (!isConvexSet(image) && isConvexSet(paper)) {
    refuse(
      'degenerate',
      'a corner inside the triangle of the three others',
      'four corners that bulge outward, as a flat sheet shows them',
      'One corner is clicked in the wrong place: click it again',
    );
  }
  refuse(
    'inconsistent',
    'corners in crossed order',
    'the corners in the order asked for',
    'Click them one after the other around the sheet, without crossing it',
  );
}

const lengthOf = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Whether no point of four lies in the triangle of the others: an even number of the triples run each way. */
function isConvexSet(points: readonly Point[]): boolean {
  const positive = TRIPLES.map(([i, j, k], n) => (n % 2 === 0 ? 1 : -1) * area(points[i]!, points[j]!, points[k]!));
  return positive.filter((a) => a > 0).length === 2;
}

function refuse(
  code: 'missing' | 'inconsistent' | 'not-a-number' | 'degenerate',
  got: string,
  expected: string,
  remedy: string,
): never {
  throw new InputError({ code, field: 'corners', got, expected, remedy });
}
