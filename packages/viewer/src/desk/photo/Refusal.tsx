import type { InputErrorDetails } from '@barwright/geometry';
import { PHOTO_READING_TEXTS } from '../../look/texts/photo-reading.ts';

const T = PHOTO_READING_TEXTS.refusal;

/** Why something can't be used, and what to do: in words, in place. */
export function Refusal({ error }: { error: InputErrorDetails }) {
  const { got, expected, remedy } = error;
  return (
    <div className="photo-refused small" role="alert">
      {got !== undefined && <p>{T.found(got)}</p>}
      <p>{T.expected(expected)}</p>
      <p>{T.remedy(remedy)}</p>
    </div>
  );
}
