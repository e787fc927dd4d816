/** What the ground seat is made of. */
export type GroundSeat = 'none' | 'leather' | 'moulded';

/**
 * How firmly a ground seat holds the bars' inner edges to fork and cantle, N per mm of travel per mm of length. Assumed,
 * no source: 300 mm of leather give a millimetre under about 600 N, of a moulded seat a twentieth of it.
 */
export const GROUND_SEAT_N_PER_MM2: Readonly<Record<GroundSeat, number>> = Object.freeze({
  none: 0,
  leather: 2,
  moulded: 40,
});
