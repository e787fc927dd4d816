import type { TracingsBackDocument } from '../back/index.ts';
import {
  decodeText,
  finishDocument,
  type ReadTracings,
  TRACINGS_LIMITS,
  type TracingsFileOptions,
} from './read-tracings-csv.ts';
import { pathPoints, polylinePoints } from './read-tracings-path.ts';
import { type XmlTag, xmlTags } from './read-tracings-xml.ts';
import { bareName, namingFile, refuse } from './refuse.ts';

type Curve = TracingsBackDocument['curves'][number];
/** Affine map x' = a x + c y + e, y' = b x + d y + f as [a, b, c, d, e, f]. */
type Affine = readonly [number, number, number, number, number, number];

const FORBIDDEN = new Set(['script', 'foreignobject', 'image', 'use', 'iframe', 'audio', 'video', 'animate', 'set']);
const PASSED_OVER = new Set(['defs', 'clippath', 'mask', 'marker', 'pattern', 'symbol']);
const MM: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
  px: 25.4 / 96,
  '': 25.4 / 96,
};
const MOST_DEPTH = 40;

/**
 * Reads traced curves from SVG: every path and polyline with an id is one curve. `data-station` gives mm behind the blade
 * edge, `data-side` left, right or both, `data-kind` cross or lengthwise, `data-level` the tilt of the drawn level mark in
 * degrees, + right end up; without them the document says so and is asked about. Right on the page is the horse's right
 * (lengthwise: the tail), up is up. True size from width, height and viewBox; transforms translate, scale, matrix.
 *
 * The document is in mm whatever `options.unit` says.
 * @throws InputError, naming the place
 */
export function readTracingsSvg(
  bytes: Uint8Array,
  fileName: string,
  options: Omit<TracingsFileOptions, 'unit' | 'axes'>,
): ReadTracings {
  return namingFile(fileName, () => {
    const warnings: string[] = [];
    const curves: Curve[] = [];
    const stack: { name: string; map: Affine; hidden: boolean }[] = [];
    let seenRoot = false;
    for (const tag of xmlTags(decodeText(bytes))) {
      if (FORBIDDEN.has(tag.name)) {
        refuse('forbidden', tag.place, `<${tag.name}>`, 'drawn curves only', 'Save it as plain SVG with paths.');
      }
      if (!tag.opens) {
        const open = stack.pop();
        if (open?.name !== tag.name) {
          refuse(
            'malformed',
            tag.place,
            `</${tag.name}>`,
            `</${open?.name ?? 'nothing'}>`,
            'Save the file again as SVG.',
          );
        }
        continue;
      }
      const outer = stack[stack.length - 1];
      if (outer === undefined) {
        if (seenRoot || tag.name !== 'svg')
          refuse('malformed', tag.place, `<${tag.name}>`, 'one <svg>', 'Open an SVG file.');
        seenRoot = true;
      } else if (tag.name === 'svg') {
        refuse('unsupported', tag.place, 'an <svg> within another', 'one drawing', 'Save it as plain SVG.');
      }
      const own = outer === undefined ? pageScale(tag) : transformOf(tag);
      const map = outer === undefined ? own : after(outer.map, own);
      const hidden = (outer?.hidden ?? false) || PASSED_OVER.has(tag.name);
      if (!hidden && (tag.name === 'path' || tag.name === 'polyline')) addCurve(curves, tag, map, warnings);
      if (tag.closes) continue;
      if (stack.length === MOST_DEPTH)
        refuse('too-large', tag.place, 'deeper groups', `${MOST_DEPTH} levels`, 'Ungroup them.');
      stack.push({ name: tag.name, map, hidden });
    }
    if (!seenRoot || stack.length > 0) {
      refuse('truncated', 'file', 'the end of the file', 'a whole SVG', 'The file was cut short: fetch it again.');
    }
    if (curves.length === 0) {
      refuse('empty', 'file', bareName(fileName), 'at least one path or polyline with an id', 'Name the curves.');
    }
    return finishDocument(curves, { ...options, unit: 'mm' }, warnings);
  });
}

function addCurve(curves: Curve[], tag: XmlTag, map: Affine, warnings: string[]): void {
  const id = tag.attributes.get('id');
  if (id === undefined || id.trim() === '' || id.length > 80) {
    warnings.push(`A ${tag.name} without a usable id was left out (${tag.place}).`);
    return;
  }
  if (curves.length === TRACINGS_LIMITS.maxCurves) {
    refuse('too-large', tag.place, id, `at most ${TRACINGS_LIMITS.maxCurves} curves`, 'Leave curves out.');
  }
  const place = `${tag.name} ${id}`;
  const raw =
    tag.name === 'path'
      ? pathPoints(tag.attributes.get('d') ?? '', place)
      : polylinePoints(tag.attributes.get('points') ?? '', place);
  if (raw.length < 3) refuse('degenerate', place, `${raw.length} points`, 'at least three points', 'Trace more of it.');
  const points = raw.map(([x, y]): [number, number] => [
    map[0] * x + map[2] * y + map[4],
    -(map[1] * x + map[3] * y + map[5]) + 0,
  ]);
  if (!points.every((p) => Math.abs(p[0]) < 1e7 && Math.abs(p[1]) < 1e7)) {
    refuse(
      'out-of-range',
      place,
      'points beyond 10 km',
      'a drawing in true size',
      'Check transforms, width and viewBox.',
    );
  }
  const kind = choiceOf(tag, 'data-kind', ['cross', 'lengthwise'] as const, place) ?? 'cross';
  const side = choiceOf(tag, 'data-side', ['left', 'right', 'both'] as const, place);
  const station = numberOf(tag, 'data-station', place);
  const tilt = numberOf(tag, 'data-level', place);
  if (tilt !== null && Math.abs(tilt) > 45) {
    refuse(
      'out-of-range',
      `${place}, data-level`,
      tilt,
      '-45 to 45 degrees',
      'Give the tilt of the level mark in degrees.',
    );
  }
  const rad = ((tilt ?? 0) * Math.PI) / 180;
  const level =
    tilt === null ? null : { point: [...points[0]!], direction: [Math.cos(rad), Math.sin(rad)] as [number, number] };
  const cross = kind === 'cross' ? { stationMm: station, level } : {};
  curves.push({ id, kind, ...(side === null ? {} : { side }), ...cross, points });
}

function choiceOf<T extends string>(tag: XmlTag, name: string, choices: readonly T[], place: string): T | null {
  const value = tag.attributes.get(name);
  if (value === undefined) return null;
  const found = choices.find((choice) => choice === value.trim());
  return found ?? refuse('unknown-name', `${place}, ${name}`, value, choices.join(', '), 'Correct this attribute.');
}

function numberOf(tag: XmlTag, name: string, place: string): number | null {
  const value = tag.attributes.get(name)?.trim();
  if (value === undefined || value === '') return null;
  if (!/^[+-]?\d{1,5}(\.\d{1,9})?$/.test(value)) {
    refuse('not-a-number', `${place}, ${name}`, value, 'a plain number', 'Correct this attribute.');
  }
  return Number(value);
}

/** Page units to mm: width and height over the viewBox; without one, or without a width, 96 page units are an inch. */
function pageScale(tag: XmlTag): Affine {
  const width = lengthMm(tag, 'width');
  const height = lengthMm(tag, 'height');
  const box = tag.attributes.get('viewBox');
  if (box === undefined) return [MM['']!, 0, 0, MM['']!, 0, 0];
  const values = numbersIn(box, tag.place);
  const [x, y, w, h] = values;
  if (values.length !== 4 || !(w! > 0 && h! > 0)) {
    refuse('malformed', tag.place, box, 'viewBox="x y width height"', 'Correct the viewBox.');
  }
  const sx = width === null ? null : width / w!;
  const sy = height === null ? null : height / h!;
  const scale = sx ?? sy ?? MM['']!;
  if (sx !== null && sy !== null && Math.abs(sx - sy) > 0.001 * sx) {
    refuse(
      'inconsistent',
      tag.place,
      `${sx} and ${sy} mm per unit`,
      'one scale both ways',
      'Correct width, height or viewBox.',
    );
  }
  return [scale, 0, 0, scale, -scale * x!, -scale * y!];
}

function lengthMm(tag: XmlTag, name: string): number | null {
  const text = tag.attributes.get(name)?.trim();
  if (text === undefined || text.endsWith('%') || text === 'auto') return null;
  const match = /^(\d{1,7}(?:\.\d{1,9})?)\s*(mm|cm|in|pt|pc|px|)$/.exec(text);
  const value = match === null ? Number.NaN : Number(match[1]) * MM[match[2]!]!;
  if (!(value > 0)) refuse('malformed', tag.place, `${name}="${text}"`, 'a length such as 210mm', 'Correct the size.');
  return value;
}

function transformOf(tag: XmlTag): Affine {
  let text = tag.attributes.get('transform')?.trim() ?? '';
  let map: Affine = [1, 0, 0, 1, 0, 0];
  for (let count = 0; text !== ''; count++) {
    const match = /^(translate|scale|matrix)\s*\(([^()]{0,400})\)[\s,]*/.exec(text);
    if (match === null || count === 20) {
      return refuse(
        'unsupported',
        tag.place,
        text,
        'translate, scale and matrix only',
        'Apply the transform to the path.',
      );
    }
    map = after(map, oneTransform(match[1]!, numbersIn(match[2]!, tag.place), tag.place));
    text = text.slice(match[0].length);
  }
  return map;
}

function oneTransform(name: string, v: readonly number[], place: string): Affine {
  if (name === 'matrix' && v.length === 6) return [v[0]!, v[1]!, v[2]!, v[3]!, v[4]!, v[5]!];
  if (name === 'translate' && (v.length === 1 || v.length === 2)) return [1, 0, 0, 1, v[0]!, v[1] ?? 0];
  if (name === 'scale' && (v.length === 1 || v.length === 2)) return [v[0]!, 0, 0, v[1] ?? v[0]!, 0, 0];
  return refuse(
    'malformed',
    place,
    `${name} of ${v.length} values`,
    'its usual number of values',
    'Save the file again.',
  );
}

function numbersIn(text: string, place: string): number[] {
  const parts = text.trim().split(/[\s,]+/);
  return parts.map((part) => {
    const value = /^[+-]?(\d{1,12}\.?\d{0,17}|\.\d{1,17})([eE][+-]?\d{1,2})?$/.test(part) ? Number(part) : Number.NaN;
    if (!(Math.abs(value) < 1e9)) refuse('not-a-number', place, part, 'a number', 'Correct the transform or viewBox.');
    return value;
  });
}

/** First the inner map, then the outer. */
function after(outer: Affine, inner: Affine): Affine {
  const [a, b, c, d, e, f] = outer;
  return [
    a * inner[0] + c * inner[1],
    b * inner[0] + d * inner[1],
    a * inner[2] + c * inner[3],
    b * inner[2] + d * inner[3],
    a * inner[4] + c * inner[5] + e,
    b * inner[4] + d * inner[5] + f,
  ];
}
