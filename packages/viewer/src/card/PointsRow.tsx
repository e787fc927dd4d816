import { InputError } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';
import { type Point, pointsText, readPoints } from './points-text.ts';
import type { SetupPane } from './setup-rows.tsx';
import { TypedField } from './TypedField.tsx';

/** A curve of the setup as pairs that may be typed; `instead` stands there while the setup holds none of its own. */
export function PointsRow({
  path,
  label,
  points,
  instead = [],
  help,
  onSetup,
}: Pick<SetupPane, 'onSetup'> & {
  path: string;
  label: string;
  points: readonly Point[] | undefined;
  instead?: readonly Point[];
  help: string;
}) {
  const text = pointsText(points ?? instead);
  return (
    <TypedField
      label={label}
      shown={text === '' ? TEXTS.setupLists.noPoints : pointsText(points ?? instead, 3)}
      source={text}
      unit=""
      value={Number.NaN}
      help={help}
      onCommit={(typed) => {
        try {
          return onSetup(path, readPoints(typed, label));
        } catch (error) {
          if (error instanceof InputError) return { ok: false, error: error.details };
          throw error;
        }
      }}
    />
  );
}
