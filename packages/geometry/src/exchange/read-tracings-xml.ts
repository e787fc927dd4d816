import { refuse } from './refuse.ts';

export interface XmlTag {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  /** Opens, closes, or both at once. */
  readonly opens: boolean;
  readonly closes: boolean;
  readonly place: string;
}

const MOST_TAGS = 20_000;
const MOST_ATTRIBUTES = 60;
const ENTITIES: Readonly<Record<string, string>> = {
  '&lt;': '<',
  '&gt;': '>',
  '&amp;': '&',
  '&quot;': '"',
  '&apos;': "'",
};

/**
 * Tags of a small XML file in order. Text, comments and processing instructions are passed over; document types, entities of
 * the file's own and CDATA are refused, so nothing can expand or be fetched.
 */
export function* xmlTags(text: string): Generator<XmlTag> {
  let at = 0;
  for (let count = 0; ; count++) {
    const start = text.indexOf('<', at);
    if (start < 0) return;
    const place = `character ${start + 1}`;
    if (count > MOST_TAGS)
      refuse('too-large', place, 'more tags', `at most ${MOST_TAGS} tags`, 'Export only the curves.');
    if (text.startsWith('<!--', start)) {
      at = endOf(text, '-->', start + 4, place);
      continue;
    }
    if (text.startsWith('<?', start)) {
      at = endOf(text, '?>', start + 2, place);
      continue;
    }
    if (text[start + 1] === '!') {
      refuse(
        'forbidden',
        place,
        text.slice(start, start + 20),
        'plain SVG without document type or CDATA',
        'Save it as plain SVG.',
      );
    }
    const tag = readTag(text, start, place);
    at = tag.end;
    yield tag;
  }
}

function endOf(text: string, mark: string, from: number, place: string): number {
  const end = text.indexOf(mark, from);
  if (end < 0)
    refuse('truncated', place, 'the end of the file', `a closing ${mark}`, 'The file was cut short: fetch it again.');
  return end + mark.length;
}

function readTag(text: string, start: number, place: string): XmlTag & { end: number } {
  const head = /<(\/?)([A-Za-z_][\w:.-]{0,80})/y;
  head.lastIndex = start;
  const match = head.exec(text);
  if (match === null)
    return refuse('malformed', place, text.slice(start, start + 20), 'a tag', 'Save the file again as SVG.');
  const attributes = new Map<string, string>();
  let at = head.lastIndex;
  const attribute = /\s+([A-Za-z_][\w:.-]{0,80})\s*=\s*(?:"([^"<]*)"|'([^'<]*)')/y;
  for (;;) {
    attribute.lastIndex = at;
    const found = attribute.exec(text);
    if (found === null) break;
    if (attributes.size === MOST_ATTRIBUTES || attributes.has(found[1]!)) {
      refuse('malformed', place, found[1], 'each attribute once, and few of them', 'Save the file again as plain SVG.');
    }
    attributes.set(found[1]!, plain(found[2] ?? found[3]!, place));
    at = attribute.lastIndex;
  }
  const tail = /\s*(\/?)>/y;
  tail.lastIndex = at;
  const closing = tail.exec(text);
  if (closing === null) {
    return refuse('malformed', place, text.slice(at, at + 20), 'the end of a tag', 'Save the file again as SVG.');
  }
  const isEnd = match[1] === '/';
  return {
    name: match[2]!.toLowerCase().replace(/^svg:/, ''),
    attributes,
    opens: !isEnd,
    closes: isEnd || closing[1] === '/',
    place,
    end: tail.lastIndex,
  };
}

function plain(value: string, place: string): string {
  if (!value.includes('&')) return value;
  return value.replace(/&[^;&]{0,12};?/g, (entity) => {
    const known = Object.hasOwn(ENTITIES, entity) ? ENTITIES[entity] : undefined;
    return known ?? refuse('forbidden', place, entity, 'no entities but the five of XML', 'Save it as plain SVG.');
  });
}
