import { Figure } from '../../look/Figure.tsx';
import { lengthFigure, pressureFigure, type Units } from '../../look/format.ts';
import { sentenceIn } from '../../look/sentence.ts';
import { SIZING_TEXTS } from '../../look/texts/sizing.ts';
import { CautionFor } from '../../reading/Cautions.tsx';
import { massOfLoad } from './capacity-mass.ts';
import { mostP95, type ShownTree, type SizingTable, worstOf } from './table-of.ts';

const T = SIZING_TEXTS.table;

interface ShelfTableProps {
  readonly table: SizingTable;
  readonly shown: string | null;
  readonly units: Units;
  readonly onShow: (id: string) => void;
}

/** Full length of the bar in a cell, in times the rule: fixed, so that bars of different shelves compare. */
const BAR_TIMES = 6;

/** Seats down, widths across, tips as lines within. */
export function ShelfTable({ table, shown, units, onShow }: ShelfTableProps) {
  const { rows, widths, range } = table;
  return (
    <section
      className="shelf-scroll"
      aria-label={T.label}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow page it scrolls, and has to by keys too
      tabIndex={0}
    >
      <CautionFor id="capacity" />
      <table className="shelf-table">
        <caption className="small soft">{T.caption(BAR_TIMES)}</caption>
        <thead>
          <tr>
            <th scope="col">{T.seat}</th>
            <th scope="col">{T.tips}</th>
            {widths.map((width) => (
              <th key={width} scope="col">
                {width}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.flatMap((row) =>
            table.tips.map((tip, i) => (
              <tr key={`${row.seat} ${tip}`} className={rowClass(row.isInSeatRange, i === 0)}>
                {i === 0 && <SeatHead row={row} tips={table.tips.length} fromIn={range.fromIn} units={units} />}
                <th scope="row" className="tip-name">
                  {tip}
                </th>
                {widths.map((width) => (
                  <td key={width}>
                    <TreeCell
                      tree={row.trees.find(({ choice }) => choice.width === width && choice.tip === tip)!}
                      units={units}
                      shown={shown}
                      onShow={onShow}
                    />
                  </td>
                ))}
              </tr>
            )),
          )}
        </tbody>
      </table>
    </section>
  );
}

const rowClass = (isOwn: boolean, isFirst: boolean): string =>
  `${isOwn ? 'own' : 'other'}${isFirst ? ' first-tip' : ''}`;

const MM_PER_IN = 25.4;

interface SeatHeadProps {
  readonly row: SizingTable['rows'][number];
  readonly tips: number;
  readonly fromIn: number;
  readonly units: Units;
}

function SeatHead({ row: { seat, isInSeatRange, trees }, tips, fromIn, units }: SeatHeadProps) {
  const { seatMm } = trees[0]!.choice;
  const other = seatMm < fromIn * MM_PER_IN ? T.shorter : T.longer;
  return (
    <th scope="rowgroup" rowSpan={tips}>
      {seat}
      <span className="small soft seat-word">
        {units.length === 'mm' && (
          <>
            <Figure of={lengthFigure(seatMm, units, { decimals: 0 })} />,{' '}
          </>
        )}
        {isInSeatRange ? T.own : other}
      </span>
    </th>
  );
}

interface TreeCellProps {
  readonly tree: ShownTree;
  readonly units: Units;
  readonly shown: string | null;
  readonly onShow: (id: string) => void;
}

function TreeCell({ tree, units, shown, onShow }: TreeCellProps) {
  const { choice, cell, isClosest, id, reason } = tree;
  if (cell === null) return <p className="tree-cell waiting small soft">{T.waiting}</p>;
  const { words, ratio } = worstOf(cell);
  const { withPad, withoutPad } = cell.capacity;
  return (
    <button
      type="button"
      className={isClosest ? 'tree-cell closest' : 'tree-cell'}
      data-tree={id}
      aria-pressed={id === shown}
      title={reason === null ? undefined : sentenceIn(reason, units)}
      onClick={() => onShow(id)}
    >
      {isClosest && <span className="closest-word">{T.closest}</span>}
      <span className="visually-hidden">
        {choice.seat}, {choice.width}, {choice.tip}:{' '}
      </span>
      <span className="worst">
        <span className="words">{words}</span> {ratio !== null && <span className="times">{ratio.toFixed(1)}×</span>}
      </span>
      <span className="over" aria-hidden="true">
        <span style={{ width: `${(100 * Math.min(ratio ?? 0, BAR_TIMES)) / BAR_TIMES}%` }} />
      </span>
      <span className="figures small">
        <span>
          {T.p95} <Figure of={pressureFigure(mostP95(cell), units)} />
        </span>{' '}
        <span>
          {T.bears}{' '}
          {withoutPad !== null && (
            <>
              <Figure of={{ ...massOfLoad(withPad.firstN, units), unit: '' }} /> /{' '}
            </>
          )}
          <Figure of={massOfLoad((withoutPad ?? withPad).firstN, units)} />
        </span>
      </span>
    </button>
  );
}
