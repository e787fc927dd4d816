import { InputError, readQuantity } from '@barwright/geometry';
import { PHOTO_LINE_TEXTS } from '../../look/texts/photo-line.ts';
import type { Line, PhotoWork } from './photo-work.ts';

const T = PHOTO_LINE_TEXTS.fields;

/** A length as the shop writes it, mm; or what is wrong with it. */
export function readLength(text: string, unit: 'mm' | 'in', field: string): { mm: number } | { fault: string } {
  try {
    return { mm: readQuantity(text.trim(), { field, unit }) };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { fault: T.faults.number(error.details.expected, error.details.remedy) };
  }
}

/** Station of a line, mm behind the blade edge; null where none is given yet. */
export function stationMm(line: Line): number | null {
  if (line.station.trim() === '') return null;
  const read = readLength(line.station, line.unit, 'station');
  return 'mm' in read ? read.mm : null;
}

export function heightMm(line: Line): number {
  const read = readLength(line.height, line.unit, 'height');
  return 'mm' in read ? read.mm : 0;
}

export type LineFaults = Readonly<Partial<Record<'name' | 'station' | 'height', string>>>;

/** What is wrong with the fields of a line. A station left open is asked for later, with the tracings. */
export function faultsOf(line: Line, work: PhotoWork): LineFaults {
  const height = readLength(line.height, line.unit, 'height');
  const all = work.photos.flatMap(({ lines }) => lines);
  const isTaken = all.some(
    ({ id, name, points }) => id !== line.id && points.length > 0 && name.trim() === line.name.trim(),
  );
  return {
    ...(line.name.trim() === '' ? { name: T.faults.noName } : {}),
    ...(isTaken ? { name: T.faults.nameTaken } : {}),
    ...stationFault(line),
    ...('fault' in height ? { height: height.fault } : {}),
  };
}

function stationFault(line: Line): LineFaults {
  if (line.station.trim() === '') return {};
  const read = readLength(line.station, line.unit, 'station');
  if ('fault' in read) return { station: read.fault };
  return read.mm >= -600 && read.mm <= 2000 ? {} : { station: T.faults.stationRange };
}

const TO_RIGHT = { cross: ['right', 'left'], lengthwise: ['tail', 'head'] } as const;

export const lineOptions = (kind: Line['kind']): readonly { value: Line['toRight']; says: string }[] =>
  TO_RIGHT[kind].map((value) => ({ value, says: T.toRightIs[value] }));
