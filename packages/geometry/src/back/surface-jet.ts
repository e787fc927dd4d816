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
