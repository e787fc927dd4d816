import { gaussLegendre } from '../numeric/index.ts';
import type { Layup } from './plies.ts';
import { type ShellFrame, strainMapAt, stretchAt } from './shell-frame.ts';

/** Places through each ply: exact for the flat laminate's cubic, and to the fourth power of thickness over radius. */
const RULE = gaussLegendre(3);

const map = new Float64Array(18);
const stress = new Float64Array(18);

/**
 * What a shell's build-up answers to the six covariant strains of its reference surface, per area of that surface: a
 * symmetric 6 x 6 matrix by rows into `out`. On a flat surface it is classical laminate theory's [A B; B D].
 */
export function sectionAt(frame: ShellFrame, { plies, riseMm }: Layup, out: Float64Array): Float64Array {
  out.fill(0);
  for (const ply of plies) {
    const [q11, q12, q22, q66] = ply.stiffness;
    const thick = ply.toMm - ply.fromMm;
    for (let p = 0; p < RULE.nodes.length; p++) {
      const z = riseMm + ply.fromMm + RULE.nodes[p]! * thick;
      strainMapAt(frame, z, map);
      const w = RULE.weights[p]! * thick * stretchAt(frame, z);
      for (let k = 0; k < 6; k++) {
        const [e1, e2, e3] = [map[k]!, map[6 + k]!, map[12 + k]!];
        stress[k] = w * (q11 * e1 + q12 * e2);
        stress[6 + k] = w * (q12 * e1 + q22 * e2);
        stress[12 + k] = w * q66 * e3;
      }
      for (let i = 0; i < 6; i++) {
        for (let k = 0; k < 6; k++) {
          out[6 * i + k]! += map[i]! * stress[k]! + map[6 + i]! * stress[6 + k]! + map[12 + i]! * stress[12 + k]!;
        }
      }
    }
  }
  return out;
}
