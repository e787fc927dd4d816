import { deskStore } from '../desk/desk-store.ts';
import { HABIT_TEXTS } from '../look/texts/habits.ts';
import { saveBench } from '../share/save-bench.ts';
import { lookFrom, redo, setStation, setUnits, setView, undo, viewStore } from '../state/index.ts';
import { COLOUR_MODES, type ViewFrom } from '../state/view-state.ts';
import { habitsStore, showPanel } from './habits-store.ts';

const T = HABIT_TEXTS.keys;

export interface Shortcut {
  /** As in KeyboardEvent.key, lower case; with Ctrl+ or Ctrl+Shift+ before it. On a Mac the command key does for Ctrl. */
  readonly keys: readonly string[];
  readonly says: string;
  readonly run: () => void;
  /** Works while the measuring desk has the bench's place, too. */
  readonly everywhere?: boolean;
}

const from = (key: string, view: ViewFrom, says: string): Shortcut => ({
  keys: [key],
  says,
  run: () => lookFrom(view),
});
const station = (byMm: number) => (): void => setStation(viewStore.getState().stationXMm + byMm);

/** Every shortcut of the page; the list that people read and what the keyboard does are this one. */
export const SHORTCUTS: readonly Shortcut[] = [
  { keys: ['?'], says: T.list, run: () => togglePanel('keys'), everywhere: true },
  { keys: ['ctrl+z'], says: T.undo, run: undo },
  { keys: ['ctrl+y', 'ctrl+shift+z'], says: T.redo, run: redo },
  { keys: ['ctrl+s'], says: T.saveAll, run: () => void saveBench() },
  { keys: ['s'], says: T.save, run: () => togglePanel('save') },
  { keys: ['k'], says: T.kept, run: () => togglePanel('kept') },
  from('1', 'left', T.left),
  from('2', 'right', T.right),
  from('3', 'above', T.above),
  from('4', 'below', T.below),
  from('5', 'three-quarter', T.threeQuarter),
  { keys: ['c'], says: T.colour, run: nextColour },
  {
    keys: ['l'],
    says: T.laidOn,
    run: () => setView({ isLaidOn: !viewStore.getState().isLaidOn }),
  },
  { keys: ['x'], says: T.cut, run: () => setView({ cutOpen: !viewStore.getState().cutOpen }) },
  { keys: [','], says: T.forward, run: station(-10) },
  { keys: ['.'], says: T.back, run: station(10) },
  { keys: ['u'], says: T.units, run: otherUnits },
  { keys: ['d'], says: T.theme, run: otherTheme },
];

/** Keys of marks and lists, which those parts answer themselves while they have the focus. */
export const KEYS_OF_PARTS = HABIT_TEXTS.parts;

function togglePanel(panel: 'kept' | 'keys' | 'save'): void {
  showPanel(habitsStore.getState().panel === panel ? null : panel);
}

function nextColour(): void {
  const at = COLOUR_MODES.indexOf(viewStore.getState().colour);
  setView({ colour: COLOUR_MODES[(at + 1) % COLOUR_MODES.length]! });
}

function otherUnits(): void {
  const isMetric = viewStore.getState().units.length === 'mm';
  setUnits(isMetric ? { length: 'in', pressure: 'psi', mass: 'lb' } : { length: 'mm', pressure: 'kPa', mass: 'kg' });
}

function otherTheme(): void {
  setView({ theme: viewStore.getState().theme === 'dark' ? 'light' : 'dark' });
}

interface Pressed {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
}

/** The shortcut that a press means, or null. Where one types, none; a plain key also leaves every field and list alone. */
export function shortcutFor(
  pressed: Pressed,
  where: 'typing' | 'field' | 'free',
  isDesk = deskIsOpen(),
): Shortcut | null {
  if (pressed.altKey || where === 'typing') return null;
  const isCtrl = pressed.ctrlKey || pressed.metaKey;
  if (!isCtrl && where === 'field') return null;
  const name = isCtrl
    ? `ctrl+${pressed.shiftKey ? 'shift+' : ''}${pressed.key.toLowerCase()}`
    : pressed.key.toLowerCase();
  const found = SHORTCUTS.find(({ keys }) => keys.includes(name)) ?? null;
  return found === null || (isDesk && found.everywhere !== true) ? null : found;
}

const deskIsOpen = (): boolean => deskStore.getState().work !== null;
