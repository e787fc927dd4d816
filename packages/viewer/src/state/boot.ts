import { demoBack, demoPattern, FIRST_DOCUMENTS } from '../files/demos.ts';
import { loadEditor } from './actions.ts';
import { readKept, startAutosave } from './autosave.ts';
import { describeChanges } from './describe-changes.ts';
import type { Documents } from './documents.ts';
import type { Edited } from './editor.ts';
import { documentStore, resultStore, viewStore } from './stores.ts';
import { VIEW_DEFAULTS, type ViewState } from './view-state.ts';

/**
 * Puts on the bench what was there last time, or the first demo; `?pattern=wren&back=dumpling` names demos instead.
 * Everything kept or named is read again as if it came from a file. Returns what stops the bench again.
 */
export async function boot(query: URLSearchParams): Promise<() => void> {
  const [editor, kept] = await Promise.all([loadEditor(), query.has('fresh') ? null : readKept()]);
  const first: Documents = { ...FIRST_DOCUMENTS, setup: editor.setupDefaults() };
  let documents = kept === null ? first : { ...first, ...kept.documents };
  const named = query.get('pattern');
  const pattern = named === null ? documents.pattern : (demoPattern(named) ?? documents.pattern);
  documents = {
    ...documents,
    pattern: unless(editor.checkPattern(pattern), first.pattern, 'pattern'),
    back: demoBack(query.get('back') ?? '') ?? documents.back,
    setup: unless(editor.checkSetup(documents.setup), first.setup, 'setup'),
  };
  documentStore.setState(documents);
  documentStore.temporal.getState().clear();
  const dark = window.matchMedia('(prefers-color-scheme: dark)').matches;
  viewStore.setState({ ...VIEW_DEFAULTS, theme: dark ? 'dark' : 'light', ...kept?.view, ...viewFrom(query) });
  const stops = [describeChanges(editor), startAutosave()];
  return () => {
    for (const stop of stops) stop();
  };
}

function unless<T>(read: Edited<T>, fallback: T, what: string): T {
  if (read.ok) return read.value;
  resultStore.setState({
    error: null,
    notice: `The ${what} kept from last time could not be read (${read.error.expected}); the first demo stands in for it.`,
  });
  return fallback;
}

const VIEWS = ['left', 'right', 'below', 'above', 'three-quarter'] as const;

function viewFrom(query: URLSearchParams): Partial<ViewState> {
  const from = VIEWS.find((name) => name === query.get('from'));
  const colour = (['clearance', 'pressure'] as const).find((name) => name === query.get('colour'));
  return { ...(from === undefined ? {} : { from }), ...(colour === undefined ? {} : { colour }) };
}
