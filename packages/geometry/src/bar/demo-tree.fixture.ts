import type { BarShape } from './bar-shape.ts';
import { type DemoName, demoShape } from './demo-shapes.fixture.ts';
import type { Tree, TreeParts } from './tree.ts';
import { createUnderside } from './underside.ts';

const PARTS: TreeParts = {
  seatLengthMm: 394,
  forkBackMm: 130,
  cantleFrontMm: 470,
  forkFootFromMm: 80,
  forkFootToMm: 140,
  cantleFootFromMm: 440,
  cantleFootToMm: 470,
  seatLowMm: 260,
  handHoleMm: 150,
  gulletHeightMm: 185,
  groundSeatFromMm: 200,
  groundSeatToMm: 460,
  groundSeatRiseFrontMm: 40,
  groundSeatRiseMm: 10,
  stirrupHangMm: 250,
};

/** Two bars of given shapes joined as an invented tree. */
export const treeOf = (left: BarShape, right: BarShape = left): Tree => ({
  name: 'test tree',
  left: createUnderside(left),
  right: createUnderside(right),
  parts: PARTS,
  materials: { bar: 'wood', lower: 'low density polyethylene', tip: 'low density polyethylene' },
});

export const demoTree = (name: DemoName): Tree => treeOf(demoShape(name));
