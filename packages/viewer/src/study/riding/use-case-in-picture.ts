import { useEffect } from 'react';
import { RIDING_TEXTS } from '../../look/texts/riding.ts';
import { show } from '../../scene/shown-store.ts';
import { setView, viewStore } from '../../state/index.ts';
import { bladeLabels } from '../shoulder/in-picture.ts';
import { useRiding } from './riding-store.ts';

const T = RIDING_TEXTS.picture;

/** Shows the chosen case, bars and back, until the study is closed. */
export function useCaseInPicture(): void {
  const row = useRiding(({ rows, chosen }) => rows[chosen]);
  useEffect(() => {
    const ridden = row?.ridden ?? null;
    if (row === undefined || ridden === null) return show(null);
    const words = T.at(row.riding.name);
    show({
      ...ridden.drawn,
      back: ridden.standing,
      moved: ridden.back,
      labels: bladeLabels(ridden.back),
      words: row.stale ? `${T.older} ${words}` : words,
    });
  }, [row]);
  useEffect(() => {
    const { isLaidOn } = viewStore.getState();
    setView({ isLaidOn: false });
    return () => {
      show(null);
      if (!viewStore.getState().isLaidOn) setView({ isLaidOn });
    };
  }, []);
}
