import { useRef } from 'react';

export interface FilesButtonProps {
  readonly says: string;
  /** Name of the hidden field, for those who don't see the button. */
  readonly label: string;
  readonly accept: string;
  readonly onFiles: (files: readonly File[]) => void;
}

/** A button that asks for files; the same ones can be picked again. */
export function FilesButton({ says, label, accept, onFiles }: FilesButtonProps) {
  const picker = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" onClick={() => picker.current?.click()}>
        {says}
      </button>
      <input
        ref={picker}
        type="file"
        multiple
        hidden
        accept={accept}
        aria-label={label}
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = '';
          onFiles(files);
        }}
      />
    </>
  );
}
