import { demoBack, demoPattern, FIRST_DOCUMENTS } from '../files/demos.ts';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import { loadEditor, openBack, openPattern } from './actions.ts';
import { keepAside, readKept, startAutosave } from './autosave.ts';
import { describeChanges } from './describe-changes.ts';
import type { Documents } from './documents.ts';
import type { Edited } from './editor.ts';
import { locks } from './locks.ts';
import { documentStore, resultStore, viewStore } from './stores.ts';
import { versions } from './versions.ts';
import { COLOUR_MODES, VIEW_DEFAULTS, type ViewState } from './view-state.ts';

/**
 * Puts on the bench what was there last time, or the first demo; `?pattern=wren&back=dumpling` names demos instead.
 * Everything kept or named is read again as if it came from a file. Returns what stops the bench again.
 */
export async function boot(query: URLSearchParams): Promise<() => void> {
  const [editor, kept] = await Promise.all([loadEditor(), readKept(query.has('fresh'))]);
  if (!query.has('fresh')) await Promise.all([locks.restore(), versions.restore()]);
  const first: Documents = { ...FIRST_DOCUMENTS, setup: editor.setupDefaults() };
  const before = { ...first, ...kept?.documents };
  const pattern = editor.checkPattern(before.pattern);
  const setup = editor.checkSetup(before.setup);
  documentStore.setState({
    ...before,
    pattern: unless(pattern, first.pattern, 'pattern'),
    setup: unless(setup, first.setup, 'setup'),
  });
  if (!pattern.ok || !setup.ok) await keepAside(kept);
  documentStore.temporal.getState().clear();
  openNamed(query);
  const dark = window.matchMedia('(prefers-color-scheme: dark)').matches;
  viewStore.setState({ ...VIEW_DEFAULTS, theme: dark ? 'dark' : 'light', ...kept?.view, ...viewFrom(query) });
  const stops = [describeChanges(editor), startAutosave()];
  return () => {
    for (const stop of stops) stop();
  };
}

/** Demos named in the address, as a step that can be undone: what was on the bench is not lost by following a link. */
function openNamed(query: URLSearchParams): void {
  const pattern = demoPattern(query.get('pattern') ?? '');
  const back = demoBack(query.get('back') ?? '');
  if (pattern !== undefined) openPattern(pattern);
  if (back !== null) openBack(back);
}

function unless<T>(read: Edited<T>, fallback: T, what: string): T {
  if (read.ok) return read.value;
  resultStore.setState({
    error: null,
    notice: REFUSAL_TEXTS.keptUnread(what, read.error.expected),
  });
  return fallback;
}

const VIEWS = ['left', 'right', 'below', 'above', 'three-quarter'] as const;

function viewFrom(query: URLSearchParams): Partial<ViewState> {
  const from = VIEWS.find((name) => name === query.get('from'));
  const colour = COLOUR_MODES.find((name) => name === query.get('colour'));
  return { ...(from === undefined ? {} : { from }), ...(colour === undefined ? {} : { colour }) };
}
