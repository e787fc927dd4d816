/**
 * Pressure that killed muscle cells by how long it was held, kPa over hours: 32 up to one hour, 9 from two hours on, a
 * smooth fall between (Linder-Ganz, Engelberg, Scheinowitz & Gefen 2006, J Biomech 39:2725; rat muscle, held still). The
 * ends are theirs; the shape between is a cosine of ours.
 */
export function heldPressureKPa(hours: number): number {
  const t = Math.min(1, Math.max(0, hours - 1));
  return 9 + (32 - 9) * ((1 + Math.cos(Math.PI * t)) / 2);
}

export const TIME_CURVE_CAUTION =
  'Rat muscle, pressed without a pause (Linder-Ganz et al. 2006). Under a moving horse the pressure comes and goes with every step, and no such curve is known for horses: context, not a limit.';
