import type { Jet1 } from '../numeric/index.ts';

/** Height over (x, y) with first and second derivatives, horse frame, mm. */
export interface SurfaceJet {
  z: number;
  zx: number;
  zy: number;
  zxx: number;
  zxy: number;
  zyy: number;
}

export const createSurfaceJet = (): SurfaceJet => ({ z: 0, zx: 0, zy: 0, zxx: 0, zxy: 0, zyy: 0 });

export function clearJet(out: SurfaceJet): SurfaceJet {
  out.z = out.zx = out.zy = out.zxx = out.zxy = out.zyy = 0;
  return out;
}

/** Adds scale times a height that is a product of one factor along x and one across y. */
export function addProduct(out: SurfaceJet, along: Jet1, across: Jet1, scale = 1): void {
  out.z += scale * along[0] * across[0];
  out.zx += scale * along[1] * across[0];
  out.zy += scale * along[0] * across[1];
  out.zxx += scale * along[2] * across[0];
  out.zxy += scale * along[1] * across[1];
  out.zyy += scale * along[0] * across[2];
}
