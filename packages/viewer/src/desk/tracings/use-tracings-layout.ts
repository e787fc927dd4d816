import type { InputErrorDetails, TracingsBackDocument } from '@barwright/geometry';
import { useEffect, useState } from 'react';
import { Interrupted } from '../../worker/worker-line.ts';
import { deskLine } from '../desk-line.ts';
import type { Look } from './Questions.tsx';
import { withAnswer } from './question-place.ts';
import type { TracingsLayout, TracingsOutcome } from './tracings-service.ts';

interface LaidOut {
  readonly of: TracingsBackDocument | null;
  readonly layout: TracingsLayout | null;
  readonly outcome: TracingsOutcome | null;
  readonly refusal: InputErrorDetails | null;
}

const NOTHING: LaidOut = { of: null, layout: null, outcome: null, refusal: null };

/** A worker that was stopped meanwhile answers nobody; anything else is a fault. */
export function unlessStopped(error: unknown): void {
  if (!(error instanceof Interrupted)) throw error;
}

const withUncertainty = (document: TracingsBackDocument, mm: number): TracingsBackDocument =>
  mm >= 0 && mm <= 50 ? { ...document, measured: { ...document.measured, uncertaintyMm: mm } } : document;

/** The drawing first, then whether it makes a back; what is older than the document is marked stale. */
export function useTracingsLayout(document: TracingsBackDocument, uncertaintyMm: number, isUnitGiven: boolean) {
  const [laid, setLaid] = useState<LaidOut>(NOTHING);
  useEffect(() => {
    let isGone = false;
    const sent = withUncertainty(document, uncertaintyMm);
    const work = async (): Promise<void> => {
      const drawn = await deskLine().ask((service) => service.layOutTracings(sent));
      if (isGone || !drawn.ok) return;
      const layout = drawn.value;
      setLaid({ of: document, layout, outcome: null, refusal: layout.refusal });
      const isReady = isUnitGiven && layout.refusal === null && !layout.open.some(({ blocking }) => blocking);
      if (!isReady) return;
      const tried = await deskLine().ask((service) => service.tryTracings(sent));
      if (isGone) return;
      setLaid({
        of: document,
        layout,
        outcome: tried.ok ? tried.value : null,
        refusal: tried.ok ? null : tried.error,
      });
    };
    work().catch(unlessStopped);
    return () => {
      isGone = true;
    };
  }, [document, uncertaintyMm, isUnitGiven]);
  return { ...laid, isStale: laid.of !== document };
}

/** The layout with the choice that is looked at; null while none is. */
export function usePreview(
  document: TracingsBackDocument,
  uncertaintyMm: number,
  look: Look | null,
): TracingsLayout | null {
  const [shown, setShown] = useState<{ readonly key: string; readonly layout: TracingsLayout } | null>(null);
  const id = look?.question.id ?? null;
  const choice = look?.choice ?? null;
  const key = `${id} ${choice}`;
  useEffect(() => {
    if (id === null || choice === null) return;
    let isGone = false;
    const sent = withUncertainty(withAnswer(document, id, choice), uncertaintyMm);
    deskLine()
      .ask((service) => service.layOutTracings(sent))
      .then((answer) => {
        if (!isGone && answer.ok) setShown({ key: `${id} ${choice}`, layout: answer.value });
      })
      .catch(unlessStopped);
    return () => {
      isGone = true;
    };
  }, [document, uncertaintyMm, id, choice]);
  return choice !== null && shown?.key === key ? shown.layout : null;
}
