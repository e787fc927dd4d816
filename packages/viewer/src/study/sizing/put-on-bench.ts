import { listChoices, readPattern, readRider, readShelf, setupOfCell } from '@barwright/geometry';
import { documentStore } from '../../state/index.ts';
import { type SizingInputs, sizingInputs } from './sizing-inputs.ts';
import type { SizingChoice } from './sizing-service.ts';

/**
 * The tree of a cell with the weight, the place of the load and the layers that its figures were worked out with: one
 * step of undo. Set position, legs, factor and limits stay as they are on the bench.
 */
export function putOnBench(
  { seat, width, tip }: SizingChoice,
  { rider, shelf: opened }: Pick<SizingInputs, 'rider' | 'shelf'> = sizingInputs.getState(),
): void {
  const shelf = readShelf(opened.json, opened.fileName);
  const choices = listChoices(shelf, readPattern(opened.pattern, shelf.pattern));
  const { pattern, bars } = choices.find((one) => one.seat === seat && one.width === width && one.tip === tip)!;
  documentStore.setState(({ setup }) => ({
    pattern,
    setup: setupOfCell(setup, shelf, readRider(rider), shelf.pads[0] ?? null, bars),
  }));
}
