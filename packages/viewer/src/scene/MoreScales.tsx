import { Figure } from '../look/Figure.tsx';
import { decimalFigure, type FigureParts, figureText, gapFigure, lengthFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { useView } from '../state/hooks.ts';
import { setView } from '../state/view-actions.ts';
import { curvatureColour, dataColour, squeezeColour } from './build/colour-table.ts';
import { stepOf } from './build/contour-levels.ts';
import { CURVATURES, type CurvatureOf } from './build/curvature.ts';
import { gradient } from './gradient.ts';
import { useBackInView, useBars } from './use-bars.ts';

const SQUEEZE_ENDS_MM = [1, 2, 5, 10, 15];
const CURVATURE_ENDS_PER_M = [2, 5, 10, 20, 40];
const DATA_ENDS_MM = [2, 5, 10, 20, 40];
const T = TEXTS.scene;

export function SqueezeBar() {
  const end = useView((view) => view.squeezeEndMm);
  const step = useView((view) => stepOf('squeeze', view));
  const chosen = useView((view) => view.squeezeLayer);
  const units = useView((view) => view.units);
  const layers = useBars()?.left.layers ?? [];
  const figure = (mm: number): FigureParts => gapFigure(mm, units, { decimals: mm % 1 === 0 ? 0 : 1 });
  return (
    <>
      <label>
        {T.squeezeShort}{' '}
        <select
          aria-label={T.whichLayer}
          value={chosen < layers.length ? chosen : -1}
          onChange={(event) => setView({ squeezeLayer: Number(event.currentTarget.value) })}
        >
          <option value={-1}>{T.allLayers}</option>
          {layers.map(({ name }, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a layer is its place in the stack
            <option key={i} value={i}>
              {name}
            </option>
          ))}
        </select>{' '}
        <Figure of={figure(0)} />
      </label>
      <span className="scale-strip" style={{ background: gradient((share) => squeezeColour(share * end, end)) }} />
      <span>
        <Figure of={figure(end)} /> {T.andMore}
      </span>
      <Ends
        step={figure(step)}
        end={end}
        ends={SQUEEZE_ENDS_MM}
        text={(mm) => figureText(figure(mm))}
        onEnd={(squeezeEndMm) => setView({ squeezeEndMm })}
      />
    </>
  );
}

const perM = (value: number): FigureParts => decimalFigure(value, '1/m', value % 1 === 0 ? 0 : 1);

export function CurvatureBar() {
  const end = useView((view) => view.curvatureEndPerM);
  const step = useView((view) => stepOf('curvature', view));
  const of = useView((view) => view.curvatureOf);
  const units = useView((view) => view.units);
  const radius = figureText(lengthFigure(1000 / end, units, { decimals: 0 }));
  return (
    <>
      <label>
        <select
          aria-label={T.whichCurvature}
          value={of}
          onChange={(event) => setView({ curvatureOf: event.currentTarget.value as CurvatureOf })}
        >
          {CURVATURES.map((name) => (
            <option key={name} value={name}>
              {T.curvatures[name]}
            </option>
          ))}
        </select>{' '}
        {T.hollow} <Figure of={perM(end)} />
      </label>
      <span
        className="scale-strip"
        style={{ background: gradient((share) => curvatureColour((2 * share - 1) * end, end)) }}
      >
        <span className="scale-zero">{T.flat}</span>
      </span>
      <span>
        <Figure of={perM(end)} /> {T.arched} ({T.radius(radius)})
      </span>
      <Ends
        step={perM(step)}
        end={end}
        ends={CURVATURE_ENDS_PER_M}
        text={(value) => `± ${figureText(perM(value))}`}
        onEnd={(curvatureEndPerM) => setView({ curvatureEndPerM })}
      />
    </>
  );
}

export function DataBar() {
  const end = useView((view) => view.dataEndMm);
  const step = useView((view) => stepOf('data', view));
  const units = useView((view) => view.units);
  const back = useBackInView();
  const figure = (mm: number): FigureParts => gapFigure(mm, units, { decimals: mm % 1 === 0 ? 0 : 1 });
  if (back !== null && back.pointsMm === null) return <span className="scale-words">{T.noPoints}</span>;
  return (
    <>
      <span>
        {T.nearestPoint} <Figure of={figure(0)} />
      </span>
      <span className="scale-strip" style={{ background: gradient((share) => dataColour(share * end, end)) }} />
      <span>
        <Figure of={figure(end)} /> {T.andMore}
      </span>
      <Ends
        step={figure(step)}
        end={end}
        ends={DATA_ENDS_MM}
        text={(mm) => figureText(figure(mm))}
        onEnd={(dataEndMm) => setView({ dataEndMm })}
      />
    </>
  );
}

interface EndsProps {
  readonly step: FigureParts;
  readonly end: number;
  readonly ends: readonly number[];
  readonly text: (value: number) => string;
  readonly onEnd: (value: number) => void;
}

function Ends({ step, end, ends, text, onEnd }: EndsProps) {
  const all = [...new Set([...ends, end])].sort((a, b) => a - b);
  return (
    <label className="scale-ends">
      {T.lineEach} <Figure of={step} />
      {T.endsAt}
      <select value={end} onChange={(event) => onEnd(Number(event.currentTarget.value))}>
        {all.map((value) => (
          <option key={value} value={value}>
            {text(value)}
          </option>
        ))}
      </select>
    </label>
  );
}
