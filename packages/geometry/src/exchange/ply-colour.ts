import { SCALAR } from './ply-header.ts';

/** A colour value as 0..255: bytes as they are, 16 bits by their upper byte, floats from 0..1. */
export function colourByte(value: number, type: number): number {
  const scaled = type >= SCALAR.f32 ? value * 255 : type === SCALAR.u16 || type === SCALAR.i16 ? value / 257 : value;
  return scaled >= 0 ? Math.min(255, Math.round(scaled)) : 0;
}
