import { deskStore } from '../desk/desk-store.ts';
import { saveBench } from '../share/save-bench.ts';
import { lookFrom, redo, setStation, setUnits, setView, undo, viewStore } from '../state/index.ts';
import { COLOUR_MODES, type ViewFrom } from '../state/view-state.ts';
import { habitsStore, showPanel } from './habits-store.ts';

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
  { keys: ['?'], says: 'This list', run: () => togglePanel('keys'), everywhere: true },
  { keys: ['ctrl+z'], says: 'Undo', run: undo },
  { keys: ['ctrl+y', 'ctrl+shift+z'], says: 'Redo', run: redo },
  { keys: ['ctrl+s'], says: 'Save the whole bench as one file', run: () => void saveBench() },
  { keys: ['s'], says: 'Save and share: a file, a link, one part', run: () => togglePanel('save') },
  { keys: ['k'], says: 'Kept: earlier states and other work', run: () => togglePanel('kept') },
  from('1', 'left', 'Look from the left'),
  from('2', 'right', 'Look from the right'),
  from('3', 'above', 'Look from above'),
  from('4', 'below', 'Look from below'),
  from('5', 'three-quarter', 'Look from three quarters'),
  { keys: ['c'], says: 'Next colouring', run: nextColour },
  {
    keys: ['l'],
    says: 'Laid on, or under the rider',
    run: () => setView({ isLaidOn: !viewStore.getState().isLaidOn }),
  },
  { keys: ['x'], says: 'Open or close the cut', run: () => setView({ cutOpen: !viewStore.getState().cutOpen }) },
  { keys: [','], says: 'Station 10 mm forward', run: station(-10) },
  { keys: ['.'], says: 'Station 10 mm back', run: station(10) },
  { keys: ['u'], says: 'Metric or shop units', run: otherUnits },
  { keys: ['d'], says: 'Light or dark', run: otherTheme },
];

/** Keys of marks and lists, which those parts answer themselves while they have the focus. */
export const KEYS_OF_PARTS = [
  { keys: 'Tab, Shift+Tab', says: 'Next and previous control' },
  { keys: 'Arrow keys', says: 'Move the mark that has the focus; with Shift further' },
  { keys: 'Enter', says: 'Take what was typed into a field' },
  { keys: 'Escape', says: 'Leave a field or close a panel' },
] as const;

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
