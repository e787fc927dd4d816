import { Figure } from '../../look/Figure.tsx';
import { lengthFigure, pressureFigure, type Units } from '../../look/format.ts';
import { massOfLoad } from './capacity-mass.ts';
import { mostP95, type ShownTree, type SizingTable, worstOf } from './table-of.ts';

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
      aria-label="Trees of this shelf"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow page it scrolls, and has to by keys too
      tabIndex={0}
    >
      <table className="shelf-table">
        <caption className="small soft">
          Worst finding of all cases, times its rule; most 95th percentile (p95); weight of rider, gear and saddle at
          which the first limit is met, with the pad / without. Bar: 0 to {BAR_TIMES} times the rule, tick at 1.
        </caption>
        <thead>
          <tr>
            <th scope="col">Seat</th>
            {widths.map((width) => (
              <th key={width} scope="col">
                {width}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ seat, isInSeatRange, trees }) => (
            <tr key={seat} className={isInSeatRange ? 'own' : 'other'}>
              <th scope="row">
                {seat}
                {units.length === 'mm' && (
                  <span className="small soft">
                    {' '}
                    <Figure of={lengthFigure(trees[0]!.choice.seatMm, units, { decimals: 0 })} />
                  </span>
                )}
                <span className="small soft seat-word">
                  {isInSeatRange
                    ? 'for this rider'
                    : `${trees[0]!.choice.seatMm < range.fromIn * 25.4 ? 'shorter' : 'longer'} than this rider's`}
                </span>
              </th>
              {widths.map((width) => (
                <td key={width}>
                  {trees
                    .filter(({ choice }) => choice.width === width)
                    .map((tree) => (
                      <TreeCell
                        key={tree.id}
                        tree={tree}
                        units={units}
                        isShown={tree.id === shown}
                        hasTips={table.tips.length > 1}
                        onShow={onShow}
                      />
                    ))}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

interface TreeCellProps {
  readonly tree: ShownTree;
  readonly units: Units;
  readonly isShown: boolean;
  readonly hasTips: boolean;
  readonly onShow: (id: string) => void;
}

function TreeCell({ tree, units, isShown, hasTips, onShow }: TreeCellProps) {
  const { choice, cell, isClosest, id, reason } = tree;
  const tip = hasTips ? choice.tip : null;
  if (cell === null)
    return (
      <p className="tree-cell waiting small soft">
        {tip ?? choice.tip}: <span className="visually-hidden">{choice.seat}, </span>not yet
      </p>
    );
  const { words, ratio } = worstOf(cell);
  const { withPad, withoutPad } = cell.capacity;
  return (
    <button
      type="button"
      className={isClosest ? 'tree-cell closest' : 'tree-cell'}
      data-tree={id}
      aria-pressed={isShown}
      title={reason ?? undefined}
      onClick={() => onShow(id)}
    >
      {isClosest && <span className="closest-word">closest of this shelf</span>}
      <span className="visually-hidden">
        {choice.seat}, {choice.width},{' '}
      </span>
      {tip !== null && <span className="tip small">{tip}</span>}
      <span className="worst">
        <span className="words">{words}</span> {ratio !== null && <span className="times">{ratio.toFixed(1)}×</span>}
      </span>
      <span className="over" aria-hidden="true">
        <span style={{ width: `${(100 * Math.min(ratio ?? 0, BAR_TIMES)) / BAR_TIMES}%` }} />
      </span>
      <span className="figures small">
        <span>
          p95 <Figure of={pressureFigure(mostP95(cell), units)} />
        </span>{' '}
        <span>
          bears <Figure of={massOfLoad(withPad.firstN, units)} />
          {withoutPad !== null && (
            <>
              {' / '}
              <Figure of={massOfLoad(withoutPad.firstN, units)} />
            </>
          )}
        </span>
      </span>
    </button>
  );
}
