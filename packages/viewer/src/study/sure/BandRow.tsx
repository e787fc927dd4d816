import type { BandSource, SourceShares } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { figureText } from '../../look/format.ts';
import { SURE_TEXTS } from '../../look/texts/sure.ts';
import type { ShownBand } from './band-figures.ts';

const T = SURE_TEXTS.bands;

/** One figure: its value in its band, low and high, and where the band comes from. */
export function BandRow({ shown }: { shown: ShownBand }) {
  const { name, band, show, from, to } = shown;
  const at = (value: number): string => `${(100 * (value - from)) / (to - from)}%`;
  const width = `${(100 * (band.high - band.low)) / (to - from)}%`;
  return (
    <tr data-figure={shown.figure}>
      <th scope="row">{name}</th>
      <td className="band-value">
        <Figure of={show(band.value)} />
      </td>
      <td className="band-end">
        <Figure of={show(band.low)} />
      </td>
      <td className="band-range">
        <span
          className="range"
          role="img"
          aria-label={T.range(figureText(show(band.value)), figureText(show(band.low)), figureText(show(band.high)))}
        >
          <span className="zero" style={{ left: at(0) }} />
          <span className="band" style={{ left: at(band.low), width }} />
          <span className="value" style={{ left: at(band.value) }} />
        </span>
      </td>
      <td className="band-end">
        <Figure of={show(band.high)} />
      </td>
      <td>
        <Shares shares={band.from} />
      </td>
    </tr>
  );
}

/** Sources named beside the bar; smaller ones are drawn and not named. */
const NAMED = 2;
const LEAST_SHARE = 0.01;

function Shares({ shares }: { shares: SourceShares }) {
  const known = [...shares].filter(({ share }) => share >= LEAST_SHARE).sort((a, b) => b.share - a.share);
  const sum = known.reduce((all, { share }) => all + share, 0);
  const whole = Math.max(1, sum);
  const words = known.slice(0, NAMED).map(({ source, share }) => `${shortOf(source)} ${Math.round(100 * share)} %`);
  return (
    <>
      <span className="shares" aria-hidden="true">
        {known.map(({ source, share }) => (
          <span
            key={source}
            className={`share ${kindOf(source)}`}
            style={{ width: `${(100 * share) / whole}%` }}
            title={`${source} ${Math.round(100 * share)} %`}
          />
        ))}
      </span>
      <span className="small">{words.length === 0 ? T.noSource : words.join(', ')}</span>
    </>
  );
}

/** `heights at the rear` as `rear heights`. */
const shortOf = (source: BandSource): string =>
  source.replace(/^(\S+) (?:at|in) the (\S+)$/, (_, kind: string, part: string) => `${part} ${kind}`);

const kindOf = (source: BandSource): string => (source === 'set position' ? 'position' : source.split(' ')[0]!);
