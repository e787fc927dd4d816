import { useIsAsking } from '../lesson/asking.ts';
import { TEXTS } from '../look/texts.ts';
import { useShown } from '../scene/shown-store.ts';
import { setStation, setView, useDocument, useResult, useView } from '../state/index.ts';
import { Cautions } from './Cautions.tsx';
import { Reading } from './Reading.tsx';

/** The reading of the open documents. Choosing a sentence brings the station marker to the middle of its place. */
export function ConnectedReading() {
  const fit = useResult((result) => result.fit);
  const back = useResult((result) => result.back);
  const isStale = useResult((result) => result.stale);
  const isFull = useResult((result) => result.full);
  const isComputing = useResult((result) => result.computing);
  const error = useResult((result) => result.error);
  const limits = useDocument((documents) => documents.setup.limits ?? null);
  const isElsewhere = useShown() !== null;
  const units = useView((view) => view.units);
  const selected = useView((view) => view.selectedFinding);
  const isAsking = useIsAsking();
  if (isAsking)
    return (
      <section className="reading" aria-label={TEXTS.reading.title}>
        <h2>{TEXTS.reading.title}</h2>
        <p className="soft">{TEXTS.lesson.waiting}</p>
      </section>
    );
  const select = (index: number | null): void => {
    const finding = index === null ? undefined : fit?.result.findings[index];
    setView({ selectedFinding: index });
    if (finding !== undefined) setStation(Math.round((finding.fromMm + finding.toMm) / 2));
  };
  return (
    <>
      {isElsewhere && <p className="reading-own small soft">{TEXTS.page.studyInPicture}</p>}
      <Reading
        fit={fit}
        back={back}
        limits={limits}
        units={units}
        selected={selected}
        isStale={isStale}
        isFull={isFull}
        isComputing={isComputing}
        error={error}
        onSelect={select}
      />
    </>
  );
}

/** The quiet line of cautions. */
export function ConnectedCautions() {
  const isOpen = useView((view) => view.cautionsOpen);
  return <Cautions isOpen={isOpen} onToggle={(cautionsOpen) => setView({ cautionsOpen })} />;
}
