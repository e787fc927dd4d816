/** A layered solid over (b, t) and a share s of its thickness. mm */
export interface SolidBody {
  /** Place at share s of the thickness, s = 0 on the underside. */
  point(b: number, t: number, s: number): readonly number[];
  /** Unit normal of the underside, out of the material. */
  outward(b: number, t: number): readonly number[];
}

/** A stretch of solid in 20-node bricks. */
export interface Block {
  readonly body: SolidBody;
  /** Element ends along b, across t, and through the thickness as shares (0 to 1), with the material of each layer. */
  readonly b: readonly number[];
  readonly t: readonly number[];
  readonly s: readonly number[];
  readonly materials: readonly string[];
  readonly held: 'from' | 'to' | 'both' | 'none';
}

/** Nodes and shares that move a place of the underside. */
export interface Carried {
  readonly nodes: readonly number[];
  readonly values: readonly number[];
}

/** A quadrature place of the underside or of its inner edge. */
export interface FacePoint extends Carried {
  readonly b: number;
  readonly t: number;
  /** Area (mm2) or length (mm). */
  readonly weight: number;
  /** The area times the face's own normal into the material; zero on the edge. */
  readonly areaVector: readonly number[];
  readonly outward: readonly number[];
}

export interface SolidMesh {
  readonly nodes: ReadonlyMap<number, readonly number[]>;
  readonly bricks: readonly {
    readonly nodes: readonly number[];
    readonly material: string;
    readonly bottom: boolean;
  }[];
  readonly held: ReadonlySet<number>;
  readonly under: readonly FacePoint[];
  readonly innerEdge: readonly FacePoint[];
  /** null outside the blocks. */
  at(b: number, t: number): Carried | null;
}

type NodeAt = (i: number, j: number, k: number) => number;
type Places = ReadonlyMap<number, readonly number[]>;

/** A 20-node brick's nodes in half elements along b, t and s, as digits, in the program's order. */
const BRICK = (
  '000 200 220 020 002 202 222 022 100 210 120 010 102 212 122 012 ' + // bottom and top: corners, then middles
  '001 201 221 021'
)
  .split(' ')
  .map((digits) => [...digits].map(Number) as [number, number, number]);
const BOTTOM = [0, 1, 2, 3, 8, 9, 10, 11].map((n) => BRICK[n]!);
const GAUSS: readonly (readonly [at: number, weight: number])[] = [
  [-Math.sqrt(0.6), 5 / 9],
  [0, 8 / 9],
  [Math.sqrt(0.6), 5 / 9],
];

/** Nodes are shared within a block only: blocks must not touch, or touch where both are held. */
export function meshSolid(blocks: readonly Block[]): SolidMesh {
  const nodes = new Map<number, readonly number[]>();
  const held = new Set<number>();
  const bricks: SolidMesh['bricks'][number][] = [];
  const under: FacePoint[] = [];
  const innerEdge: FacePoint[] = [];
  const finders: SolidMesh['at'][] = [];
  for (const block of blocks) {
    const [b, t, s] = [withMiddles(block.b), withMiddles(block.t), withMiddles(block.s)];
    const nodeAt = numbering(block, b, t, s, nodes, held);
    for (let i = 0; i + 2 < b.length; i += 2) {
      for (let j = 0; j + 2 < t.length; j += 2) {
        block.materials.forEach((material, l) => {
          const own = BRICK.map(([x, y, z]) => nodeAt(i + x, j + y, 2 * l + z));
          bricks.push({ nodes: own, material, bottom: l === 0 });
        });
        const face = BOTTOM.map(([x, y]) => nodeAt(i + x, j + y, 0));
        under.push(...facePoints(block, nodes, face, b.slice(i, i + 3), t.slice(j, j + 3)));
      }
      const line = [nodeAt(i, 0, 0), nodeAt(i + 2, 0, 0), nodeAt(i + 1, 0, 0)];
      innerEdge.push(...edgePoints(block, nodes, line, b.slice(i, i + 3)));
    }
    finders.push((at, across) => {
      if (at < b[0]! || at > b[b.length - 1]!) return null;
      const [i, j] = [2 * pieceOf(block.b, at), 2 * pieceOf(block.t, across)];
      const f = faceValues((at - b[i + 1]!) / (b[i + 1]! - b[i]!), (across - t[j + 1]!) / (t[j + 1]! - t[j]!));
      return { nodes: BOTTOM.map(([x, y]) => nodeAt(i + x, j + y, 0)), values: f.map((v) => v.n) };
    });
  }
  const at: SolidMesh['at'] = (b, t) => finders.map((find) => find(b, t)).find((found) => found !== null) ?? null;
  return { nodes, bricks, held, under, innerEdge, at };
}

/** Places nodes as they are asked for. */
function numbering(
  block: Block,
  b: readonly number[],
  t: readonly number[],
  s: readonly number[],
  nodes: Map<number, readonly number[]>,
  held: Set<number>,
): NodeAt {
  const ids = new Map<number, number>();
  const { held: end } = block;
  return (i, j, k) => {
    const key = (i * t.length + j) * s.length + k;
    const known = ids.get(key);
    if (known !== undefined) return known;
    const id = nodes.size + 1;
    ids.set(key, id);
    nodes.set(id, block.body.point(b[i]!, t[j]!, s[k]!));
    const atFrom = i === 0 && (end === 'from' || end === 'both');
    const atTo = i === b.length - 1 && (end === 'to' || end === 'both');
    if (atFrom || atTo) held.add(id);
    return id;
  };
}

const withMiddles = (ends: readonly number[]): number[] =>
  ends.flatMap((x, i) => (i === 0 ? [x] : [(ends[i - 1]! + x) / 2, x]));

const pieceOf = (ends: readonly number[], x: number): number =>
  Math.max(0, Math.min(ends.length - 2, ends.filter((e) => e <= x).length - 1));

/** The eight functions of a quadratic face without a middle node, and their slopes, in the order of BOTTOM. */
function faceValues(x: number, y: number): { n: number; x: number; y: number }[] {
  const corner = (a: number, c: number) => ({
    n: 0.25 * (1 + a * x) * (1 + c * y) * (a * x + c * y - 1),
    x: 0.25 * a * (1 + c * y) * (2 * a * x + c * y),
    y: 0.25 * c * (1 + a * x) * (2 * c * y + a * x),
  });
  const alongX = (c: number) => ({ n: 0.5 * (1 - x * x) * (1 + c * y), x: -x * (1 + c * y), y: 0.5 * c * (1 - x * x) });
  const alongY = (a: number) => ({ n: 0.5 * (1 - y * y) * (1 + a * x), x: 0.5 * a * (1 - y * y), y: -y * (1 + a * x) });
  return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1), alongX(-1), alongY(1), alongX(1), alongY(-1)];
}

const combine = (nodes: Places, own: readonly number[], values: readonly number[]): number[] =>
  [0, 1, 2].map((a) => own.reduce((sum, n, i) => sum + values[i]! * nodes.get(n)![a]!, 0));

function facePoints(
  { body }: Block,
  nodes: Places,
  own: readonly number[],
  [b0, bMiddle]: readonly number[],
  [t0, tMiddle]: readonly number[],
): FacePoint[] {
  return GAUSS.flatMap(([x, wx]) =>
    GAUSS.map(([y, wy]) => {
      const f = faceValues(x, y);
      const p = combine(
        nodes,
        own,
        f.map((v) => v.x),
      );
      const q = combine(
        nodes,
        own,
        f.map((v) => v.y),
      );
      const areaVector = [0, 1, 2].map((a) => {
        const [i, j] = [(a + 1) % 3, (a + 2) % 3];
        return wx * wy * (p[i]! * q[j]! - p[j]! * q[i]!);
      });
      const [b, t] = [bMiddle! + x * (bMiddle! - b0!), tMiddle! + y * (tMiddle! - t0!)];
      const values = f.map((v) => v.n);
      return { b, t, weight: Math.hypot(...areaVector), areaVector, outward: body.outward(b, t), nodes: own, values };
    }),
  );
}

function edgePoints(
  block: Block,
  nodes: Places,
  own: readonly number[],
  [b0, bMiddle]: readonly number[],
): FacePoint[] {
  return GAUSS.map(([x, w]) => {
    const [b, t] = [bMiddle! + x * (bMiddle! - b0!), block.t[0]!];
    const weight = w * Math.hypot(...combine(nodes, own, [x - 0.5, x + 0.5, -2 * x]));
    const values = [(x * (x - 1)) / 2, (x * (x + 1)) / 2, 1 - x * x];
    return { b, t, weight, areaVector: [0, 0, 0], outward: block.body.outward(b, t), nodes: own, values };
  });
}
