import { clearanceColour, pressureColour } from '@barwright/geometry';
import { Figure } from '../look/Figure.tsx';
import { figureText, gapFigure, pressureFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { useView } from '../state/hooks.ts';
import { setView } from '../state/view-actions.ts';
import { giveColour, thicknessColour } from './build/colour-table.ts';
import { stepOf } from './build/contour-levels.ts';
import { gradient } from './gradient.ts';
import { CurvatureBar, DataBar, SqueezeBar } from './MoreScales.tsx';
import { useIsBent } from './SceneControls.tsx';

const CLEARANCE_ENDS_MM = [6, 10, 15, 20, 30];
const PRESSURE_ENDS_KPA = [20, 30, 40, 60, 100];
const GIVE_ENDS_MM = [1, 2, 5, 10, 20];
const THICKNESS_ENDS_MM = [15, 20, 30, 40, 60];
const T = TEXTS.scene;

/** The colours' figures; its ends are chosen by the user and never follow the data. */
export function ScaleBar() {
  const colour = useView((view) => view.colour);
  const Bar = BARS[colour];
  return (
    <div className="scale-bar">
      <Bar />
    </div>
  );
}

function ClearanceBar() {
  const scale = useView((view) => view.clearanceScale);
  const units = useView((view) => view.units);
  const { squeezeMm, clearMm } = scale;
  const span = squeezeMm + clearMm;
  const ends = [...new Set([...CLEARANCE_ENDS_MM, clearMm])].sort((a, b) => a - b);
  return (
    <>
      <span>
        {TEXTS.squeeze} <Figure of={gapFigure(squeezeMm, units, { decimals: 0 })} />
      </span>
      <span
        className="scale-strip"
        style={{ background: gradient((share) => clearanceColour(share * span - squeezeMm, scale)) }}
      >
        <span className="scale-zero">{TEXTS.touching}</span>
      </span>
      <span>
        <Figure of={gapFigure(clearMm, units, { decimals: 0 })} /> {TEXTS.clear}
      </span>
      <label className="scale-ends">
        {T.lineEach} <Figure of={gapFigure(3, units, { decimals: 0 })} />
        {T.endsAt}
        <select
          value={clearMm}
          onChange={(event) => {
            const end = Number(event.currentTarget.value);
            setView({ clearanceScale: { squeezeMm: end, clearMm: end } });
          }}
        >
          {ends.map((end) => (
            <option key={end} value={end}>
              ± {figureText(gapFigure(end, units, { decimals: 0 }))}
            </option>
          ))}
        </select>
      </label>
    </>
  );
}

function PressureBar() {
  const scale = useView((view) => view.pressureScale);
  const units = useView((view) => view.units);
  const ends = [...new Set([...PRESSURE_ENDS_KPA, scale.maxKPa])].sort((a, b) => a - b);
  return (
    <>
      <span>{T.noPressure}</span>
      <span
        className="scale-strip"
        style={{ background: gradient((share) => pressureColour(share * scale.maxKPa, scale)) }}
      />
      <span>
        <Figure of={pressureFigure(scale.maxKPa, units)} /> {T.andMore}
      </span>
      <label className="scale-ends">
        {T.lineEach} <Figure of={pressureFigure(5, units)} />
        {T.boldLimits}
        {T.endsAt}
        <select
          value={scale.maxKPa}
          onChange={(event) => setView({ pressureScale: { maxKPa: Number(event.currentTarget.value) } })}
        >
          {ends.map((end) => (
            <option key={end} value={end}>
              {figureText(pressureFigure(end, units))}
            </option>
          ))}
        </select>
      </label>
    </>
  );
}

function GiveBar() {
  const end = useView((view) => view.giveEndMm);
  const step = useView((view) => stepOf('give', view));
  const units = useView((view) => view.units);
  const isBent = useIsBent();
  const ends = [...new Set([...GIVE_ENDS_MM, end])].sort((a, b) => a - b);
  return (
    <>
      <span>
        {T.towards} <Figure of={gapFigure(end, units, { decimals: 0 })} />
      </span>
      <span className="scale-strip" style={{ background: gradient((share) => giveColour((2 * share - 1) * end, end)) }}>
        <span className="scale-zero">{isBent ? T.noMove : T.rigidHere}</span>
      </span>
      <span>
        <Figure of={gapFigure(end, units, { decimals: 0 })} /> {T.away}
      </span>
      <label className="scale-ends">
        {T.lineEach} <Figure of={gapFigure(step, units)} />
        {T.endsAt}
        <select value={end} onChange={(event) => setView({ giveEndMm: Number(event.currentTarget.value) })}>
          {ends.map((mm) => (
            <option key={mm} value={mm}>
              ± {figureText(gapFigure(mm, units, { decimals: 0 }))}
            </option>
          ))}
        </select>
      </label>
    </>
  );
}

function ThicknessBar() {
  const end = useView((view) => view.thicknessEndMm);
  const step = useView((view) => stepOf('thickness', view));
  const units = useView((view) => view.units);
  const ends = [...new Set([...THICKNESS_ENDS_MM, end])].sort((a, b) => a - b);
  return (
    <>
      <span>
        {T.thicknessFrom} <Figure of={gapFigure(0, units, { decimals: 0 })} />
      </span>
      <span className="scale-strip" style={{ background: gradient((share) => thicknessColour(share * end, end)) }} />
      <span>
        <Figure of={gapFigure(end, units, { decimals: 0 })} /> {T.andMore}
      </span>
      <label className="scale-ends">
        {T.lineEach} <Figure of={gapFigure(step, units, { decimals: 0 })} />
        {T.endsAt}
        <select value={end} onChange={(event) => setView({ thicknessEndMm: Number(event.currentTarget.value) })}>
          {ends.map((mm) => (
            <option key={mm} value={mm}>
              {figureText(gapFigure(mm, units, { decimals: 0 }))}
            </option>
          ))}
        </select>
      </label>
    </>
  );
}

const BARS = {
  clearance: ClearanceBar,
  pressure: PressureBar,
  give: GiveBar,
  thickness: ThicknessBar,
  squeeze: SqueezeBar,
  curvature: CurvatureBar,
  data: DataBar,
} as const;
