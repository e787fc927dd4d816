import { useRef } from 'react';
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
        aria-label="Photos to read"
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
