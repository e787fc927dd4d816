import type { InputErrorDetails, TracingsBackDocument } from '@barwright/geometry';
import { useEffect, useState } from 'react';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';
import { todayIso } from '../../look/today.ts';
import { deskLine } from '../desk-line.ts';
import { measuredOf, NOT_STATED, type RecordDraft, recordOf, startRecord } from '../record-draft.ts';
import { unlessStopped } from './use-tracings-layout.ts';

export type TracingsSource = { readonly bytes: Uint8Array } | { readonly json: unknown };

/** What lies on the desk: all of it is undone and redone together. */
export interface Tracings {
  readonly document: TracingsBackDocument;
  readonly record: RecordDraft;
  readonly isUnitGiven: boolean;
  /** A table of bare numbers, which says nothing of its unit. */
  readonly isTable: boolean;
}

interface Reading {
  readonly start: Tracings | null;
  readonly warnings: readonly string[];
  readonly refusal: InputErrorDetails | null;
}

/** Reads a file of curves or a document, once, in the worker. */
export function useReading(fileName: string, source: TracingsSource): Reading {
  const [reading, setReading] = useState<Reading>({ start: null, warnings: [], refusal: null });
  useEffect(() => {
    let isGone = false;
    read(fileName, source)
      .then((found) => {
        if (!isGone) setReading(found);
      })
      .catch(unlessStopped);
    return () => {
      isGone = true;
    };
  }, [fileName, source]);
  return reading;
}

async function read(fileName: string, source: TracingsSource): Promise<Reading> {
  const refused = (refusal: InputErrorDetails): Reading => ({ start: null, warnings: [], refusal });
  if ('json' in source) {
    const answer = await deskLine().ask((service) => service.readTracingsDocument(source.json, fileName));
    if (!answer.ok) return refused(answer.error);
    const document = answer.value;
    const record = recordIn(document);
    return { start: { document, record, isUnitGiven: true, isTable: false }, warnings: [], refusal: null };
  }
  const measured = measuredOf(startRecord('', '', todayIso()));
  const answer = await deskLine().ask((service) => service.readTracings(source.bytes, fileName, 'mm', measured));
  if (!answer.ok) return refused(answer.error);
  const { document, warnings } = answer.value;
  const isTable = !/\.svg$/i.test(fileName);
  const record = startRecord(document.name, TRACINGS_TEXTS.desk.how(fileName), todayIso());
  return { start: { document, record, isUnitGiven: !isTable, isTable }, warnings, refusal: null };
}

function recordIn({ name, measured, record }: TracingsBackDocument): RecordDraft {
  return {
    ...startRecord(name, record?.how ?? '', measured.on),
    by: measured.by === NOT_STATED ? '' : measured.by,
    uncertaintyMm: String(measured.uncertaintyMm),
    uncertaintyDeg: String(measured.uncertaintyDeg),
    surface: record?.surface ?? 'bare',
    horse: record?.horse ?? '',
    owner: record?.owner ?? '',
    notes: record?.notes ?? '',
  };
}

/** The document as it goes to the bench or into a file. */
export function finishedDocument({ document, record }: Tracings): TracingsBackDocument {
  const { answers, ...rest } = document;
  return {
    ...rest,
    name: record.name.trim(),
    ...(answers === undefined || Object.keys(answers).length === 0 ? {} : { answers }),
    measured: measuredOf(record),
    record: recordOf(record),
  };
}
