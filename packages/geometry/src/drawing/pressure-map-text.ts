/** Text for XML: the five signs that mean something there are escaped, signs that XML can't hold are left out. */
export function escapeXml(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replace(/[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, '')
    .replace(/[&<>"']/g, (sign) => ESCAPES[sign]!);
}

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** A length for SVG: tenths, without a minus before zero. */
export function mm(value: number): string {
  const rounded = Math.round(value * 10) / 10;
  return String(rounded === 0 ? 0 : rounded);
}

/** Fixed decimals with a true minus sign and none before zero; `no data` where there is none. */
export function figure(value: number | null, decimals: number): string {
  if (value === null || !Number.isFinite(value)) return 'no data';
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `\u2212${text}` : text;
}

/** About how wide a text is set in a humanist sans of this size. A little generous, so that lines never run over. */
export function textWidth(text: string, size: number): number {
  let ems = 0;
  for (const sign of text) {
    if (/[iljt.,:;'|! ()]/.test(sign)) ems += 0.27;
    else if (/[mwMW\u2013%]/.test(sign)) ems += 0.8;
    else if (/[A-Z]/.test(sign)) ems += 0.58;
    else ems += 0.505;
  }
  return ems * size;
}

/** Breaks a text at blanks into lines no wider than `width`. A word that is wider stands alone. */
export function breakLines(text: string, size: number, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/)) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidth(longer, size) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return line === '' ? lines : [...lines, line];
}

export interface TextStyle {
  readonly size?: number;
  readonly bold?: boolean;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly colour?: string;
  /** A rim of the paper's colour, so that the text can be read over lines. */
  readonly halo?: string;
}

/** One line of text with its baseline at (x, y). */
export function textAt(x: number, y: number, text: string, style: TextStyle = {}): string {
  const attributes = [
    `x="${mm(x)}"`,
    `y="${mm(y)}"`,
    ...(style.size === undefined ? [] : [`font-size="${style.size}"`]),
    ...(style.bold === true ? ['font-weight="600"'] : []),
    ...(style.anchor === undefined || style.anchor === 'start' ? [] : [`text-anchor="${style.anchor}"`]),
    ...(style.colour === undefined ? [] : [`fill="${style.colour}"`]),
  ].join(' ');
  const body = escapeXml(text);
  // The rim is drawn first as a text of its own: not every renderer knows paint-order.
  const rim =
    style.halo === undefined
      ? ''
      : `<text ${attributes.replace(/ fill="[^"]*"/, '')} fill="none" stroke="${style.halo}" stroke-width="3.2" stroke-linejoin="round">${body}</text>`;
  return `${rim}<text ${attributes}>${body}</text>`;
}
