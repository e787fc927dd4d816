import { documentStore, resultStore } from './stores.ts';

/** Works out the pattern's numbers anew with every change of it, on the page, before anything is drawn. */
export function describeChanges(editor: Pick<typeof import('./editor.ts'), 'attempt' | 'describePattern'>): () => void {
  const describe = (): void => {
    const described = editor.attempt(() => editor.describePattern(documentStore.getState().pattern));
    if (described.ok) resultStore.setState({ pattern: described.value });
    else resultStore.setState({ error: described.error });
  };
  describe();
  return documentStore.subscribe((now, before) => {
    if (now.pattern !== before.pattern) describe();
  });
}
