import { type BarShape, createUnderside, type Tree, treeLengthMm } from '../bar/index.ts';

/** A tree with both bars changed alike. Everything that the change does not name is kept. */
export function alterTree(tree: Tree, change: (shape: BarShape) => BarShape): Tree {
  const right = createUnderside(change(tree.right.shape));
  const left = tree.left.shape === tree.right.shape ? right : createUnderside(change(tree.left.shape));
  return { ...tree, left, right };
}

/** Rock as curvature of the bearing line, 1/mm: 0 is straight. */
export function withRock(tree: Tree, curvaturePerMm: number): Tree {
  return alterTree(tree, (shape) => ({ ...shape, rockCurvaturePerMm: curvaturePerMm }));
}

/**
 * Adds to the slopes, radians: `frontRad` in full at the first station and fading to nothing at the last, `rearRad` the
 * other way round. Opposite halves of one change are a change of twist about the same mean.
 */
export function withSlopes(tree: Tree, frontRad: number, rearRad: number): Tree {
  return alterTree(tree, (shape) => {
    const first = shape.stations[0]!.atMm;
    const last = shape.stations[shape.stations.length - 1]!.atMm;
    const rearward = (atMm: number): number => (last > first ? (atMm - first) / (last - first) : 0.5);
    const stations = shape.stations.map((s) => {
      const share = rearward(s.atMm);
      return { ...s, slopeRad: s.slopeRad + frontRad * (1 - share) + rearRad * share };
    });
    return { ...shape, stations };
  });
}

/** Adds to the slope of each station in turn, radians; stations beyond the list are kept. */
export function withStationSlopes(tree: Tree, addRad: readonly number[]): Tree {
  return alterTree(tree, (shape) => ({
    ...shape,
    stations: shape.stations.map((s, i) => ({ ...s, slopeRad: s.slopeRad + (addRad[i] ?? 0) })),
  }));
}

/**
 * Another overall length, mm: stations, low point and slot keep their percents; flare zones, tips and the fork's foot keep
 * their millimetres (a tip at most half the bar), and the cantle's foot still ends ahead of the rear tip.
 */
export function withLength(tree: Tree, lengthMm: number): Tree {
  const scale = lengthMm / treeLengthMm(tree);
  const altered = alterTree(tree, (shape) => ({
    ...shape,
    lengthMm,
    stations: shape.stations.map((s) => ({ ...s, atMm: s.atMm * scale })),
    rockLowPointMm: shape.rockLowPointMm * scale,
    slotCentreMm: shape.slotCentreMm * scale,
    tipLengthFrontMm: Math.min(shape.tipLengthFrontMm, lengthMm / 2),
    tipLengthRearMm: Math.min(shape.tipLengthRearMm, lengthMm / 2),
  }));
  const parts = tree.parts;
  return {
    ...altered,
    parts: {
      ...parts,
      cantleFrontMm: parts.cantleFrontMm * scale,
      cantleFootFromMm: parts.cantleFootFromMm * scale,
      cantleFootToMm: parts.cantleFootToMm + lengthMm - treeLengthMm(tree),
      seatLowMm: parts.seatLowMm * scale,
      groundSeatToMm: parts.groundSeatToMm * scale,
    },
  };
}

/** Carries each station sideways so that the bar's bearing line comes to lie this far from the midplane, mm. */
export function withBearingLineAt(tree: Tree, outMm: number): Tree {
  return alterTree(tree, (shape) => ({
    ...shape,
    stations: shape.stations.map((s) => ({ ...s, spreadMm: 2 * (outMm - s.bearingInsetMm) })),
  }));
}

/** Adds the same to the spread of every station, mm (inner edge to inner edge of a pair). */
export function withWiderSpread(tree: Tree, addMm: number): Tree {
  return alterTree(tree, (shape) => ({
    ...shape,
    stations: shape.stations.map((s) => ({ ...s, spreadMm: s.spreadMm + addMm })),
  }));
}

/** Lift at the tip edges, mm. */
export function withFlare(tree: Tree, frontLiftMm: number, rearLiftMm: number): Tree {
  return alterTree(tree, (shape) => ({ ...shape, flareLiftFrontMm: frontLiftMm, flareLiftRearMm: rearLiftMm }));
}
