import { type Jet1, multiplyJet } from '../numeric/index.ts';
import { plateau, rampUp } from '../numeric/ramps.ts';

/** The shoulder blade as a raised patch: full height ahead of its edge, gone at the edge (TRADE 5). */
export interface BladeBulge {
  readonly heightMm: number;
  /** x of the blade's rear edge: 0 standing, further back with the leg forward. */
  readonly edgeXMm: number;
}

/** Length over which the patch falls to nothing at its rear edge, and its extent beside the midline (TRADE 5), mm. */
const EDGE_RAMP_MM = 40;
const FROM_Y_MM = 80;
const TO_Y_MM = 200;
const SIDE_RAMP_MM = 40;

/** Height of the patch at (x, |y|) with its derivatives, product of a lengthwise and a crosswise ramp. */
export function bladeBulgeAt(bulge: BladeBulge, xMm: number, absYMm: number): { along: Jet1; across: Jet1 } {
  const fall = rampUp(xMm, bulge.edgeXMm - EDGE_RAMP_MM, bulge.edgeXMm);
  const along: Jet1 = [bulge.heightMm * (1 - fall[0]), -bulge.heightMm * fall[1], -bulge.heightMm * fall[2]];
  return { along, across: plateau(absYMm, FROM_Y_MM + SIDE_RAMP_MM, TO_Y_MM - SIDE_RAMP_MM, SIDE_RAMP_MM) };
}

/** false where the patch adds nothing, nor to any derivative. */
export const bulgeReaches = ({ heightMm, edgeXMm }: BladeBulge, xMm: number, absYMm: number): boolean =>
  heightMm !== 0 && xMm < edgeXMm && absYMm > FROM_Y_MM && absYMm < TO_Y_MM;

/** The two factors of the patch's height by themselves: along the horse with the height, and across it. */
export const bladeAlong = ({ heightMm, edgeXMm }: BladeBulge, xMm: number): number =>
  heightMm * (1 - rampUp(xMm, edgeXMm - EDGE_RAMP_MM, edgeXMm)[0]);

export function bladeAcross(absYMm: number): number {
  if (absYMm <= FROM_Y_MM || absYMm >= TO_Y_MM) return 0;
  return plateau(absYMm, FROM_Y_MM + SIDE_RAMP_MM, TO_Y_MM - SIDE_RAMP_MM, SIDE_RAMP_MM)[0];
}

/** Value only. */
export function bladeBulgeHeightMm(bulge: BladeBulge, xMm: number, absYMm: number): number {
  const { along, across } = bladeBulgeAt(bulge, xMm, absYMm);
  return multiplyJet(along, across)[0];
}
