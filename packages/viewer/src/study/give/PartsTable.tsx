import type { GiveStudy } from '@barwright/geometry';
import { TEXTS } from '../../look/texts.ts';
import { GIVE_COLUMNS } from './figure-columns.ts';
import { VariantRow, VariantTable } from './VariantRow.tsx';

const T = TEXTS.give;

/** What each part buys: the tree as built, then every part taken out alone; rows come as they are worked out. */
export function PartsTable({ study: { parts }, of }: { study: GiveStudy; of: number }) {
  const built = parts[0]?.figures ?? null;
  return (
    <section className="give-parts" aria-label={T.parts}>
      <h3>{T.parts}</h3>
      <p className="small soft">{T.partsNote}</p>
      <VariantTable caption={T.parts} first={T.part}>
        {parts.map(({ part, changed, figures }, i) => (
          <VariantRow
            // biome-ignore lint/suspicious/noArrayIndexKey: two layers may have one name; rows keep their places
            key={i}
            name={
              <span title={changed}>
                {partWords(part)}
                <small className="give-changed">{changed}</small>
              </span>
            }
            figures={figures}
            beside={i === 0 ? null : built}
          />
        ))}
        {Array.from({ length: Math.max(0, of - parts.length) }, (_, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: rows that have nothing yet
          <tr key={`waiting ${i}`} className="waiting">
            <td colSpan={GIVE_COLUMNS.length + 1} className="soft">
              {T.waiting}
            </td>
          </tr>
        ))}
      </VariantTable>
    </section>
  );
}

const partWords = (part: string): string => (part === 'as built' || part === 'rigid bars' ? part : T.without(part));
