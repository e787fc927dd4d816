import type { InputErrorDetails, Setup } from '@barwright/geometry';
import { Problem } from '../card/TypedField.tsx';
import type { BackView, FitView } from '../contract.ts';
import type { Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { GiveLines } from './GiveLines.tsx';
import { CapacityFigures, PoseFigures, PressureFigures, TrustFigures } from './KeyFigures.tsx';
import { Sentences } from './Sentences.tsx';

const T = TEXTS.reading;

export interface ReadingProps {
  readonly fit: FitView | null;
  readonly back: BackView | null;
  readonly limits: Setup['limits'] | null;
  readonly units: Units;
  readonly selected: number | null;
  readonly isStale: boolean;
  readonly isFull: boolean;
  readonly isComputing: boolean;
  readonly error: InputErrorDetails | null;
  readonly onSelect: (index: number | null) => void;
}

/** Sentences first, figures after them. */
export function Reading(props: ReadingProps) {
  const { fit, back, units, isStale, isComputing, error, limits } = props;
  return (
    <section className="reading" aria-label={T.title} aria-busy={isComputing}>
      <h2>{T.title}</h2>
      {error !== null && <Problem problem={error} />}
      {fit === null ? (
        <p className="soft">{isComputing ? T.waiting : T.empty}</p>
      ) : (
        <>
          {isStale && <p className="small soft">{TEXTS.stale}</p>}
          <div className={isStale ? 'reading-body stale' : 'reading-body'}>
            {fit.result.status !== 'settled' && (
              <p className="status" role="status">
                {T.notSettled[fit.result.status]}
              </p>
            )}
            <Sentences
              findings={fit.result.findings}
              units={units}
              selected={props.selected}
              hasCauses={props.isFull}
              onSelect={props.onSelect}
            />
            <PressureFigures result={fit.result} units={units} />
            <PoseFigures result={fit.result} units={units} />
            <GiveLines fit={fit} units={units} />
            {limits !== null && <CapacityFigures result={fit.result} units={units} limits={limits} />}
            <TrustFigures result={fit.result} units={units} measured={back?.measured ?? null} />
          </div>
        </>
      )}
    </section>
  );
}
