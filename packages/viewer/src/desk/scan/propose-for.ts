import { type ProposableScan, proposeScan, type ScanHints, type ScanProposal } from '@barwright/geometry';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import { type Point, rowsOf, type Way } from './scan-way.ts';

type MarkName = keyof ScanProposal['landmarks'];
type Marks = NonNullable<ScanHints['landmarks']>;

/**
 * A scan's proposal with what a person said. A stated way may hold a turn and a mirror, which the proposal's own hints can't:
 * the scan is then turned to stand level with x to the tail, y right, z up, asked, and the answer carried back to the file.
 */
export function proposeFor(scan: ProposableScan, unit: ScanHints['unit'], way: Way | null, marks: Marks): ScanProposal {
  const stated = unit === undefined ? {} : { unit };
  if (way === null) return proposeScan(scan, { ...stated, landmarks: marks });
  const rows = rowsOf(way);
  const into = (p: ArrayLike<number>): Point =>
    [0, 3, 6].map((r) => rows[r]! * p[0]! + rows[r + 1]! * p[1]! + rows[r + 2]! * p[2]!) as unknown as Point;
  const back = (p: ArrayLike<number>): Point =>
    [0, 1, 2].map((k) => rows[k]! * p[0]! + rows[3 + k]! * p[1]! + rows[6 + k]! * p[2]!) as unknown as Point;
  const { positions, triangles } = scan.mesh;
  const turned = new Float64Array(positions.length);
  for (let i = 0; i < turned.length; i += 3) turned.set(into(positions.subarray(i, i + 3)), i);
  const wound = way.isMirrored ? triangles.map((_, h, all) => all[h - (h % 3) + (2 - (h % 3))]!) : triangles;
  const { statedUp: _, ...rest } = scan;
  const given = mapMarks(marks, into);
  const found = proposeScan(
    { ...rest, mesh: { positions: turned, triangles: wound } },
    { ...stated, tail: '+x', right: '+y', up: '+z', landmarks: given },
  );
  const said = { alternatives: [], reason: SCAN_TEXTS.way.asSaid, confidence: 'clear', given: true } as const;
  const { value } = found.midplane;
  return {
    ...found,
    tail: { ...said, value: way.tail },
    right: { ...said, value: way.right },
    up: { ...said, value: way.up },
    turn: { ...said, value: way.turn },
    mirrored: { ...said, value: way.isMirrored },
    midplane: {
      ...found.midplane,
      value: { ...value, pointInFile: back(value.pointInFile), normalInFile: back(value.normalInFile) },
    },
    landmarks: mapParts(found.landmarks, (name, part) => ({
      ...part,
      value: marks[name] ?? (part.value === null ? null : back(part.value)),
    })),
  };
}

const mapMarks = (marks: Marks, move: (p: Point) => Point): Marks =>
  Object.fromEntries(Object.entries(marks).flatMap(([name, p]) => (p === undefined ? [] : [[name, move(p)]])));

function mapParts<Part>(
  parts: Readonly<Record<MarkName, Part>>,
  change: (name: MarkName, part: Part) => Part,
): Record<MarkName, Part> {
  const names = Object.keys(parts) as MarkName[];
  return Object.fromEntries(names.map((name) => [name, change(name, parts[name])])) as Record<MarkName, Part>;
}
