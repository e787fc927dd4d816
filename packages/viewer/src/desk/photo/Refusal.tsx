import type { InputErrorDetails } from '@barwright/geometry';

/** Why something can't be used, and what to do: in words, in place. */
export function Refusal({ error }: { error: InputErrorDetails }) {
  const { got, expected, remedy } = error;
  return (
    <div className="photo-refused small" role="alert">
      {got !== undefined && <p>{`Found ${got}.`}</p>}
      <p>{`Expected ${expected}.`}</p>
      <p>{`${remedy.replace(/\.$/, '')}.`}</p>
    </div>
  );
}
