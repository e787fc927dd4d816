import type { CutView } from '../../contract.ts';
import { bodyPath, cutPath, raisedLine } from '../../cut/cut-geometry.ts';
import { gapPaths, type StackScale } from './stack-scale.ts';

/** One station of the stack: bars, back and what lies between, left on the left. */
export function StationPicture({
  cut,
  scale,
  widthPx,
  layersMm,
  label,
}: {
  cut: CutView;
  scale: StackScale;
  widthPx: number;
  layersMm: number;
  label: string;
}) {
  const window = scale.window(cut);
  const { heightPx } = scale;
  const ground = layersMm > 0 ? raisedLine(cut.back, layersMm) : cut.back;
  return (
    <svg
      className="cut"
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      role="img"
      aria-label={label}
    >
      <line className="centre" x1={widthPx / 2} x2={widthPx / 2} y1={4} y2={heightPx - 4} />
      <path className="back-line" d={cutPath(cut.back, window)} />
      {layersMm > 0 && <path className="pad-line" d={cutPath(ground, window)} />}
      {(['left', 'right'] as const).map((side) => {
        const bar = cut[side];
        if (bar === null) return null;
        const gap = gapPaths(bar.underside, ground, window);
        return (
          <g key={side}>
            <path className="station-clear" d={gap.clear} />
            <path className="station-squeeze" d={gap.squeeze} />
            <path className="body" d={bodyPath(bar, window)} />
            <path className="bar-line" d={cutPath(bar.underside, window)} />
          </g>
        );
      })}
    </svg>
  );
}
