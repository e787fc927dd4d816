/** Row-major 4x4. p' = M p. */
export type Matrix4 = readonly number[];

export interface EulerAngles {
  readonly rollRad: number;
  readonly pitchRad: number;
  readonly yawRad: number;
}

/** R = Rz(yaw) Ry(pitch) Rx(roll), right-hand rule, row-major 3x3. */
export function rotationOf({ rollRad, pitchRad, yawRad }: EulerAngles): number[] {
  const cr = Math.cos(rollRad);
  const sr = Math.sin(rollRad);
  const cp = Math.cos(pitchRad);
  const sp = Math.sin(pitchRad);
  const cy = Math.cos(yawRad);
  const sy = Math.sin(yawRad);
  return [
    cy * cp,
    cy * sp * sr - sy * cr,
    cy * sp * cr + sy * sr,
    sy * cp,
    sy * sp * sr + cy * cr,
    sy * sp * cr - cy * sr,
    -sp,
    cp * sr,
    cp * cr,
  ];
}

/** Translation after rotation as a 4x4. */
export function matrixOf(r: readonly number[], t: readonly number[]): number[] {
  return [r[0]!, r[1]!, r[2]!, t[0]!, r[3]!, r[4]!, r[5]!, t[1]!, r[6]!, r[7]!, r[8]!, t[2]!, 0, 0, 0, 1];
}

/** Point (x, y, z) carried by m. */
export function transformPoint(m: Matrix4, x: number, y: number, z: number): [number, number, number] {
  return [
    m[0]! * x + m[1]! * y + m[2]! * z + m[3]!,
    m[4]! * x + m[5]! * y + m[6]! * z + m[7]!,
    m[8]! * x + m[9]! * y + m[10]! * z + m[11]!,
  ];
}

/** Direction (x, y, z) carried by m: no translation. */
export function transformDirection(m: Matrix4, x: number, y: number, z: number): [number, number, number] {
  return [m[0]! * x + m[1]! * y + m[2]! * z, m[4]! * x + m[5]! * y + m[6]! * z, m[8]! * x + m[9]! * y + m[10]! * z];
}

/** a b: first b, then a. */
export function multiplyMatrices(a: Matrix4, b: Matrix4): number[] {
  const out = new Array<number>(16).fill(0);
  for (let i = 0; i < 4; i++) {
    for (let j = 0; j < 4; j++) {
      for (let k = 0; k < 4; k++) out[i * 4 + j]! += a[i * 4 + k]! * b[k * 4 + j]!;
    }
  }
  return out;
}
