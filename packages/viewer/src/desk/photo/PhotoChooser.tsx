import { useRef } from 'react';
import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { addPhotos } from './photo-store.ts';

/** A button that asks for pictures. */
export function PhotoChooser({ label, isMain = false }: { label: string; isMain?: boolean }) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <input
        ref={input}
        className="visually-hidden"
        type="file"
        multiple
        tabIndex={-1}
        accept="image/*"
        aria-label={PHOTO_TEXTS.chooser}
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = '';
          void addPhotos(files);
        }}
      />
      <button type="button" className={isMain ? 'photo-main' : undefined} onClick={() => input.current?.click()}>
        {label}
      </button>
    </>
  );
}
