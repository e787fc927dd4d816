import { type FormEvent, useState } from 'react';
import { TEXTS } from '../look/texts.ts';
import { useView } from '../state/hooks.ts';
import { viewStore } from '../state/stores.ts';
import { setView } from '../state/view-actions.ts';
import { pictureHand, type SavedView, withView } from './camera-store.ts';

const T = TEXTS.looking;

/** Views kept under names: a list to go back to, and a field to keep the present one. */
export function SavedViews() {
  const views = useView((view) => view.savedViews);
  const [name, setName] = useState('');
  const keep = (event: FormEvent): void => {
    event.preventDefault();
    const wanted = name.trim();
    if (wanted === '') return;
    const camera = pictureHand()?.whereIs() ?? null;
    setView({ savedViews: withView(views, wanted, viewStore.getState(), camera) });
    setName('');
  };
  return (
    <details className="saved-views">
      <summary>{T.views(views.length)}</summary>
      <form onSubmit={keep}>
        <label>
          {T.viewName}{' '}
          <input
            type="text"
            size={14}
            maxLength={40}
            value={name}
            onChange={(event) => setName(event.currentTarget.value)}
          />
        </label>
        <button type="submit" disabled={name.trim() === ''}>
          {T.keepView}
        </button>
      </form>
      <ul>
        {views.map((view) => (
          <li key={view.name}>
            <button type="button" onClick={() => goBack(view)}>
              {view.name}
            </button>
            <button
              type="button"
              aria-label={T.removeView(view.name)}
              onClick={() => setView({ savedViews: views.filter((one) => one !== view) })}
            >
              {T.remove}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

function goBack({ shown, camera }: SavedView): void {
  setView(shown);
  if (camera !== null) pictureHand()?.goTo(camera);
}
