import type { PatternDifference, PatternField } from '@barwright/geometry';
import { memo } from 'react';
import { Figure } from '../look/Figure.tsx';
import { figureText, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import type { EditOutcome, PatternView } from '../state/index.ts';
import { useIsLocked } from '../state/locks.ts';
import { LockButton } from './LockButton.tsx';
import { TypedField } from './TypedField.tsx';
import {
  deltaFigure,
  inputText,
  isExpression,
  kindOf,
  placeInRange,
  stepped,
  unitText,
  valueFigure,
  withPageUnit,
} from './value-text.ts';

const T = TEXTS.card;

export interface PatternEditing {
  readonly view: PatternView;
  readonly units: Units;
  /** Whose values are shown and typed. */
  readonly side: 'both' | 'left';
  readonly onValue: (key: string, value: string | number) => EditOutcome;
  readonly onDragStart: () => void;
  readonly onDragEnd: () => void;
  /** Values that an open lesson holds, by key. */
  readonly held: readonly string[];
}

/** One value of the pattern on the card. */
export function PatternValue({
  field,
  label,
  isLabelHidden = false,
  editing,
}: {
  field: PatternField;
  label: string;
  isLabelHidden?: boolean;
  editing: PatternEditing;
}) {
  const { view, units, side, onValue, onDragStart, onDragEnd } = editing;
  const isLeft = side === 'left' && field.perSide;
  const value = (isLeft ? view.leftValues : view.values)[field.key];
  if (value === undefined) return null;
  const isOwn = isLeft && Object.hasOwn(view.leftWritten, field.key);
  const difference = differenceOf(view, field.key, isLeft);
  return (
    <OneValue
      {...{ field, label, isLabelHidden, units, isLeft, isOwn, value, onValue, onDragStart, onDragEnd }}
      source={(isOwn ? view.leftWritten[field.key] : view.written[field.key]) ?? field.default}
      isHeld={editing.held.includes(field.key)}
      delta={difference === undefined ? undefined : difference.delta}
      parentValue={difference?.parentValue ?? null}
    />
  );
}

interface OneValueProps extends Pick<PatternEditing, 'units' | 'onValue' | 'onDragStart' | 'onDragEnd'> {
  readonly field: PatternField;
  readonly label: string;
  readonly isLabelHidden: boolean;
  readonly isLeft: boolean;
  /** Written for the left bar alone. */
  readonly isOwn: boolean;
  readonly value: number | 'flat';
  readonly source: string | number;
  readonly isHeld: boolean;
  /** To the parent pattern: null where it is no number, undefined where there is none. */
  readonly delta: number | null | undefined;
  readonly parentValue: PatternDifference['parentValue'];
}

/** Of some sixty values one is dragged: the others are left as they are drawn. */
const OneValue = memo(function OneValue(props: OneValueProps) {
  const { field, label, isLabelHidden, units, isLeft, isOwn, value, source, isHeld, delta, parentValue } = props;
  const isLocked = useIsLocked(field.key);
  const key = isLeft ? `left.${field.key}` : field.key;
  const kind = kindOf(field);
  const expression = isExpression(source);
  const range = [field.min, field.max].map((end) => figureText(valueFigure(end, kind, units))) as [string, string];
  const canStep = !expression && value !== 'flat' && !isLocked;
  return (
    <TypedField
      label={label}
      isLabelHidden={isLabelHidden}
      shown={expression ? source : inputText(value, kind, units)}
      source={exactText(source, value, kind, units)}
      unit={expression ? '' : value === 'flat' ? '' : unitText(kind, units)}
      help={field.help}
      range={{
        place: placeInRange(value, kind, field.min, field.max),
        text: T.range(range[0], range[1]),
      }}
      value={value === 'flat' ? Number.NaN : value}
      onCommit={(text) => props.onValue(key, withPageUnit(text, kind, units))}
      onStep={
        canStep
          ? (steps, from) => void props.onValue(key, stepped(from, steps, kind, units, field.min, field.max))
          : undefined
      }
      onDragStart={props.onDragStart}
      onDragEnd={props.onDragEnd}
      lock={<LockButton of={field.key} label={label} />}
      beside={
        <>
          {isLocked && <span className="own">{TEXTS.locks.locked}</span>}
          {expression && (
            <span className="result">
              = <Figure of={valueFigure(value, kind, units)} />
            </span>
          )}
          {isHeld && (
            <span className="held" title={TEXTS.lesson.heldHelp}>
              {TEXTS.lesson.heldMark}
            </span>
          )}
          {isOwn && <span className="own">{T.own}</span>}
          <Delta delta={delta} parentValue={parentValue} kind={kind} units={units} />
        </>
      }
    />
  );
});

/** Stored text as it is, or a stored number with its unit where the page shows another one. */
function exactText(
  source: string | number,
  value: number | 'flat',
  kind: ReturnType<typeof kindOf>,
  units: Units,
): string {
  if (typeof source === 'string') return source;
  const isForeign = (kind === 'length' || kind === 'radius') && units.length === 'in';
  return isForeign ? `${value} mm` : String(source);
}

function differenceOf(view: PatternView, key: string, isLeft: boolean): PatternDifference | undefined {
  return view.differences.find((d) => d.key === key && (d.side === 'both' || (d.side === 'left') === isLeft));
}

function Delta({
  delta,
  parentValue,
  kind,
  units,
}: Pick<OneValueProps, 'delta' | 'parentValue' | 'units'> & { kind: ReturnType<typeof kindOf> }) {
  if (delta === undefined) return null;
  if (delta === null) {
    const was = parentValue;
    return <span className="delta">{was === null ? T.isNew : T.was(figureText(valueFigure(was, kind, units)))}</span>;
  }
  return (
    <span className="delta">
      <Figure of={deltaFigure(delta, kind, units)} />
    </span>
  );
}
