import { type PatternField, SOLID_MATERIALS } from '@barwright/geometry';
import { useState } from 'react';
import { Figure } from '../look/Figure.tsx';
import { angleFigure, lengthFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { sagOfRock } from '../ruler/rock-sag.ts';
import { type EditOutcome, type PatternView, useSentence } from '../state/index.ts';
import { WithWord, WordRow } from '../words/Word.tsx';
import { type PatternEditing, PatternValue } from './PatternValue.tsx';
import { StationTable } from './StationTable.tsx';
import { ChoiceRow } from './setup-rows.tsx';
import { TypedField } from './TypedField.tsx';

const T = TEXTS.card;

export interface SpecCardProps {
  readonly name: string;
  readonly view: PatternView | null;
  readonly units: Units;
  readonly onValue: (key: string, value: string | number) => EditOutcome;
  readonly onDragStart: () => void;
  readonly onDragEnd: () => void;
  readonly held: readonly string[];
}

const GROUP_WORDS = {
  bar: ['rock', 'bearing line', 'core bearing zone'],
  'tips and relief': ['flare', 'relief'],
  'stirrup slot': [],
  'seat and fork': ['spine clearance'],
} as const;
const GROUPS = ['bar', 'tips and relief', 'stirrup slot', 'seat and fork'] as const;

/** The shop's own spec card: the same card that is printed. */
export function SpecCard(props: SpecCardProps) {
  const { view } = props;
  const [side, setSide] = useState<'both' | 'left'>('both');
  if (view === null)
    return (
      <section className="card" aria-label={T.title}>
        <h2>{T.title}</h2>
        <p className="soft">{T.empty}</p>
      </section>
    );
  const editing: PatternEditing = { ...props, view, side };
  return (
    <section className="card" aria-label={T.title}>
      <div className="card-head">
        <h2>{T.title}</h2>
        <fieldset className="switch">
          <legend className="visually-hidden">{T.showing}</legend>
          <button type="button" aria-pressed={side === 'both'} onClick={() => setSide('both')}>
            {T.bothBars}
          </button>
          <button type="button" aria-pressed={side === 'left'} onClick={() => setSide('left')}>
            {T.leftBar}
          </button>
        </fieldset>
      </div>
      <p className="small soft">{side === 'left' ? T.leftNote : T.howTo}</p>
      <div className="card-name">
        <TypedField
          label={T.pattern}
          shown={props.name}
          source={props.name}
          unit=""
          value={Number.NaN}
          onCommit={(text) => props.onValue('name', text)}
        />
      </div>
      <StationTable editing={editing} />
      {GROUPS.map((group) => (
        <Group key={group} group={group} editing={editing} />
      ))}
      <Materials view={view} onValue={props.onValue} />
      <Remarks view={view} />
      <p className="small soft">{view.parentName === null ? T.noParent : T.parent(view.parentName)}</p>
    </section>
  );
}

function Group({ group, editing }: { group: (typeof GROUPS)[number]; editing: PatternEditing }) {
  const fields = editing.view.fields.filter((field: PatternField) => field.group === group);
  return (
    <details className="card-group" open={group === 'bar'}>
      <summary>{T.groups[group]}</summary>
      <div className="field-list">
        <WordRow ids={GROUP_WORDS[group]} />
        {fields.map((field) => (
          <PatternValue key={field.key} field={field} label={field.label} editing={editing} />
        ))}
        {group === 'bar' && <BarSums view={editing.view} units={editing.units} />}
      </div>
    </details>
  );
}

/** What the bars are made of; each choice says where its stiffness comes from. */
function Materials({ view, onValue }: Pick<SpecCardProps, 'onValue'> & { view: PatternView }) {
  const options = SOLID_MATERIALS.map(({ name }) => [name, name] as const);
  const hasLower = Number(view.values.lowerShare) > 0 || Number(view.leftValues.lowerShare) > 0;
  return (
    <details className="card-group">
      <summary>{T.materials}</summary>
      <div className="field-list">
        <p className="small soft">{T.materialsHelp}</p>
        {Object.entries(T.materialNames).map(([place, label]) => {
          const name = view.materials[place]!;
          return (
            <ChoiceRow
              key={place}
              label={label}
              value={name}
              options={options.some(([known]) => known === name) ? options : [...options, [name, name]]}
              onChoose={(chosen) => onValue(`materials.${place}`, chosen)}
            >
              {place === 'lower' && !hasLower ? T.noLower : materialWords(name)}
            </ChoiceRow>
          );
        })}
      </div>
    </details>
  );
}

function materialWords(name: string): string {
  const found = SOLID_MATERIALS.find((material) => material.name === name);
  return found === undefined ? T.unknownMaterial : T.alongWords(found.alongMPa, found.source);
}

/** Twist, and the sag with the chord it is taken over. */
function BarSums({ view, units }: { view: PatternView; units: Units }) {
  const slopes = view.fields
    .filter((field) => field.quantity === 'slope')
    .map((field) => Number(view.values[field.key]));
  const value = (key: string): number => Number(view.values[key]);
  const chord = value('length') - value('flareZoneFront') - value('flareZoneRear');
  const radius = view.values.rockRadius;
  return (
    <>
      <p className="computed-line" title={T.twistHelp}>
        <span>
          <WithWord text={T.twist} />
        </span>{' '}
        <Figure of={angleFigure(slopes[0]! - slopes[slopes.length - 1]!)} />
      </p>
      <p className="computed-line" title={T.sagHelp}>
        <span>
          <WithWord text={T.sag} />
        </span>{' '}
        <span>
          <Figure of={lengthFigure(sagOfRock(radius ?? 'flat', chord), units)} /> {T.overChord}{' '}
          <Figure of={lengthFigure(chord, units, { decimals: 0 })} />
        </span>
      </p>
    </>
  );
}

function Remarks({ view }: { view: PatternView }) {
  const sentence = useSentence();
  if (view.remarks.length === 0) return null;
  return (
    <ul className="remarks small">
      {view.remarks.map((remark) => (
        <li key={`${remark.field}${remark.sentence}`}>{sentence(remark.sentence)}</li>
      ))}
    </ul>
  );
}
