import type { BarProfile, ClearanceScale } from '@barwright/geometry';
import { useRef } from 'react';
import type { BackView, FitView } from '../../contract.ts';
import { figureText, lengthFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import type { RulerFrame } from '../../ruler/frame.ts';
import { GapBand, sayGap } from '../../ruler/GapBand.tsx';
import { Axis } from '../../ruler/Landmarks.tsx';
import { createRulerScale } from '../../ruler/ruler-scale.ts';
import { useWidth } from '../../ruler/use-width.ts';
import { extremesOf, LINES } from './gap-extremes.ts';

const T = TEXTS.stations;
const BAND_PX = 110;
const BETWEEN_PX = 8;

export interface GapCurvesProps {
  readonly fit: FitView;
  readonly back: BackView | null;
  readonly isLaidOn: boolean;
  readonly limits: ClearanceScale;
  readonly units: Units;
  readonly stationXMm: number;
}

/** The gap along inner edge, bearing line and outer edge of both bars over the ruler's own axis, with its most and least. */
export function GapCurves({ fit, back, isLaidOn, limits, units, stationXMm }: GapCurvesProps) {
  const holder = useRef<HTMLDivElement>(null);
  const widthPx = useWidth(holder, 640);
  const isNarrow = widthPx < 560;
  const profiles = isLaidOn ? fit.laidOnProfiles : fit.profiles;
  const { xMm } = profiles.right;
  const scale = createRulerScale(
    [back?.usable.toXMm ?? 430, xMm[0]!, xMm[xMm.length - 1]!],
    isNarrow ? 10 : 92,
    widthPx - (isNarrow ? 10 : 14),
  );
  const frame: RulerFrame = { scale, units, widthPx, isNarrow, stationXMm };
  const axis = 2 * BAND_PX + 2 * BETWEEN_PX;
  const band = { frame, limits, heightPx: BAND_PX, laidOn: null, isMarked: false };
  return (
    <section className="station-curves" aria-label={T.curves}>
      <h3>{T.curves}</h3>
      <p className="small soft">{T.curvesNote}</p>
      <div ref={holder} className="ruler ruler-drawing">
        <svg width={widthPx} height={axis + 48} role="img" aria-label={describe(profiles, units)}>
          <GapBand {...band} profile={profiles.left} name={TEXTS.left} topPx={2} />
          <GapBand {...band} profile={profiles.right} name={TEXTS.right} topPx={2 + BAND_PX + BETWEEN_PX} />
          <Axis frame={frame} topPx={axis} noteY={axis + 42} />
        </svg>
      </div>
      <ExtremesTable profiles={profiles} units={units} />
    </section>
  );
}

type Profiles = { readonly left: BarProfile; readonly right: BarProfile };

function ExtremesTable({ profiles, units }: { profiles: Profiles; units: Units }) {
  const at = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  return (
    <table className="station-extremes small">
      <thead>
        <tr>
          <th scope="col">{T.line}</th>
          {(['left', 'right'] as const).flatMap((side) =>
            (['clear', 'squeeze'] as const).map((which) => (
              <th key={side + which} scope="col">
                {TEXTS[side]}, {T.worst[which]}
              </th>
            )),
          )}
        </tr>
      </thead>
      <tbody>
        {LINES.map((line) => (
          <tr key={line}>
            <th scope="row">{T.lines[line]}</th>
            {(['left', 'right'] as const).flatMap((side) => {
              const found = extremesOf(profiles[side], line);
              return (['most', 'least'] as const).map((which) => (
                <td key={side + which}>
                  {found === null
                    ? TEXTS.noData
                    : `${sayGap(found[which].gapMm, units)} ${T.at} ${at(found[which].xMm)}`}
                </td>
              ));
            })}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function describe(profiles: Profiles, units: Units): string {
  const side = (name: 'left' | 'right'): string => {
    const found = extremesOf(profiles[name], 'bearing');
    return `${TEXTS[name]}: ${found === null ? TEXTS.noData : `${sayGap(found.least.gapMm, units)} ${TEXTS.to} ${sayGap(found.most.gapMm, units)}`}`;
  };
  return `${T.curves}, ${T.lines.bearing}. ${side('left')}. ${side('right')}.`;
}
