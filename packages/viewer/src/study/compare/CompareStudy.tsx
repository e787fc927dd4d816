import { useEffect, useMemo, useRef, useState } from 'react';
import { useStore } from 'zustand';
import { Problem } from '../../card/TypedField.tsx';
import { TEXTS } from '../../look/texts.ts';
import { useWidth } from '../../ruler/use-width.ts';
import { useDocument, useView } from '../../state/index.ts';
import { RunLine } from '../sizing/RunLine.tsx';
import { shownOf } from '../sizing/step-run.ts';
import { CompareDrawing } from './CompareDrawing.tsx';
import { CompareTables } from './CompareTables.tsx';
import { type DrawnDifference, type DrawnResult, differenceOf, mapKindOf } from './compare-layout.ts';
import { compareRun, followCompare, type Shown, shownResults } from './compare-run.ts';
import type { ComparedView } from './compare-service.ts';
import { DrawingControls } from './DrawingControls.tsx';
import { KeptList } from './KeptList.tsx';
import { openKept, useKept } from './kept-store.ts';
import type { Matching } from './map-places.ts';
import { SavePage } from './SavePage.tsx';
import './compare.css';

const T = TEXTS.compare;

/** What is chosen of the difference; letters of results that are not shown fall back to the first two. */
export interface DifferenceChoice {
  readonly isShown: boolean;
  readonly first: string;
  readonly second: string;
  readonly matching: Matching;
  readonly ends: { readonly clearance: number; readonly pressure: number };
}

const CHOICE: DifferenceChoice = {
  isShown: true,
  first: 'A',
  second: 'B',
  matching: 'mm',
  ends: { clearance: 10, pressure: 20 },
};

/** Results of today and results that were kept, one above the other on one ruler and one scale. */
export default function CompareStudy() {
  useEffect(() => void openKept(), []);
  const pattern = useDocument((documents) => documents.pattern);
  const back = useDocument((documents) => documents.back);
  const setup = useDocument((documents) => documents.setup);
  const kept = useKept((state) => state.kept);
  const shownIds = useKept((state) => state.shown);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another tree, horse, setup or choice is another question
  useEffect(() => followCompare(), [pattern, back, setup, kept, shownIds]);
  useEffect(() => {
    compareRun.goOn();
    return () => compareRun.stop();
  }, []);
  const run = useStore(compareRun.store);
  const { parts, isOlder } = shownOf(run);
  const isNewest = run.state === 'done' && !isOlder;
  // biome-ignore lint/correctness/useExhaustiveDependencies: names and documents follow from these
  const shown = useMemo(() => shownResults(), [pattern, back, setup, kept, shownIds]);
  const results = useDrawn(shown, parts);
  return (
    <div className="compare">
      <KeptList shown={shown} />
      {run.refusal !== null && <Problem problem={run.refusal} />}
      <RunLine run={compareRun} unit={T.results} />
      {shown.length === 0 && <p className="soft">{T.nothingShown}</p>}
      {results.length > 0 && shown.length > 0 && <Compared results={results} shown={shown} isStale={!isNewest} />}
    </div>
  );
}

/** Results that are there, under the names and letters that are chosen now. */
function useDrawn(shown: readonly Shown[], parts: readonly ComparedView[]): DrawnResult[] {
  return useMemo(
    () =>
      shown.flatMap(({ id, letter, name, documents }) => {
        const view = parts.find((part) => part.id === id);
        const { limits } = documents.setup;
        return view === undefined ? [] : [{ letter, name, view, limitsKPa: [limits.meanKPa, limits.peakKPa] }];
      }),
    [shown, parts],
  );
}

function Compared({
  results,
  shown,
  isStale,
}: {
  results: readonly DrawnResult[];
  shown: readonly Shown[];
  isStale: boolean;
}) {
  const holder = useRef<HTMLDivElement>(null);
  const widthPx = useWidth(holder);
  const state = useView((view) => view);
  const map = mapKindOf(state);
  const view = useMemo(
    () => ({
      isLaidOn: state.isLaidOn,
      units: state.units,
      exaggeration: state.exaggeration,
      clearanceScale: state.clearanceScale,
      pressureScale: state.pressureScale,
    }),
    [state.isLaidOn, state.units, state.exaggeration, state.clearanceScale, state.pressureScale],
  );
  const [choice, setChoice] = useState(CHOICE);
  const difference = differenceFor(choice, results, choice.ends[differenceOf(map)]);
  const documentsOf = (letter: string) => shown.find((one) => one.letter === letter)!.documents;
  const drawing = { results, view, map, difference, stationXMm: state.stationXMm };
  return (
    <div className={isStale ? 'compare-result stale' : 'compare-result'} aria-busy={isStale}>
      <DrawingControls {...{ results, map, choice }} onChoice={setChoice} isLaidOn={state.isLaidOn} />
      <div ref={holder} className="ruler compare-drawing">
        <CompareDrawing {...drawing} widthPx={widthPx} />
      </div>
      <p className="small soft">{T.seenFrom}</p>
      <CompareTables results={results} documentsOf={documentsOf} units={state.units} />
      <SavePage {...drawing} documentsOf={documentsOf} isStale={isStale} />
    </div>
  );
}

function differenceFor(choice: DifferenceChoice, results: readonly DrawnResult[], end: number): DrawnDifference | null {
  if (!choice.isShown || results.length < 2) return null;
  const letters = results.map(({ letter }) => letter);
  const isChosen =
    choice.first !== choice.second && [choice.first, choice.second].every((one) => letters.includes(one));
  const [first, second] = isChosen ? [choice.first, choice.second] : [letters[0]!, letters[1]!];
  return { first, second, matching: choice.matching, end };
}
