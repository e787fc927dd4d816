import type { Measured } from '../back/index.ts';
import type { Reach } from '../sizing/index.ts';
import { FONT, INK, LIGHT_INK, PAPER } from './pressure-map-paper.ts';
import { escapeXml, mm } from './pressure-map-text.ts';
import { drawReachAxes, drawReachStrip, STRIP_HEIGHT } from './reach-map-axes.ts';
import { drawReachField, type ReachFrame } from './reach-map-field.ts';
import { drawReachNotes } from './reach-map-notes.ts';

export interface ReachMapOptions {
  /** Day the sheet was drawn, yyyy-mm-dd. */
  readonly drawnOn: string;
  /** Full text, one paragraph each. */
  readonly cautions: readonly string[];
  readonly measured: Measured;
  /** In words, such as "95 kg at 47 %". */
  readonly load: string;
  /** Who set the rules. */
  readonly rulesBy: string;
  /** What was changed from the files, such as "length = 630". */
  readonly changes?: readonly string[];
}

/** Page units to a millimetre of paper. */
const REDUCTION = 4;
const MARGIN = 40;
const FRAME: ReachFrame = { x: MARGIN + 62, y: MARGIN + 36, width: 580, height: 500 };
const STRIP_Y = FRAME.y + FRAME.height + 96;
const NOTES_X = FRAME.x + FRAME.width + 92;
const NOTES_WIDTH = 370;
const LEAST_HEIGHT = 210 * REDUCTION;

/**
 * A sheet with the reach of a tree around a measured back, as SVG text: slope across, curve upwards, colours by how far
 * the worst finding is over its rule, a strip of set positions below. Lies on A4 across.
 */
export function drawReachMap(reach: Reach, options: ReachMapOptions): string {
  const notes = drawReachNotes(reach, options, { x: NOTES_X, width: NOTES_WIDTH });
  const width = NOTES_X + NOTES_WIDTH + MARGIN;
  const height = Math.max(LEAST_HEIGHT, STRIP_Y + STRIP_HEIGHT + 40 + MARGIN, notes.endY + MARGIN);
  const hatching = `<pattern id="no-data" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="7" height="7" fill="${PAPER}"/><path d="M0 0V7M0 0H7" stroke="${LIGHT_INK}" stroke-width="1.5"/></pattern>`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width / REDUCTION)}mm" height="${mm(height / REDUCTION)}mm" viewBox="0 0 ${mm(width)} ${mm(height)}" font-family="${FONT}" fill="${INK}">
<title>${escapeXml(`${reach.tree}: reach around ${reach.back}`)}</title>
<defs>${hatching}</defs>
<rect width="${mm(width)}" height="${mm(height)}" fill="${PAPER}"/>
${drawReachField(reach, FRAME)}
${drawReachAxes(reach, FRAME)}
${drawReachStrip(reach, FRAME, STRIP_Y)}
${notes.svg}
</svg>
`;
}
