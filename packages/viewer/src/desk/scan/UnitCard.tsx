import type { Confidence, ScanProposal, ScanUnit } from '@barwright/geometry';
import type { ReactNode } from 'react';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import { UNIT_MM } from './scan-way.ts';

const T = SCAN_TEXTS.card;
const UNIT = SCAN_TEXTS.unit;

export interface CardProps {
  readonly title: ReactNode;
  /** Null: nothing here has to be confirmed. */
  readonly isOpen: boolean | null;
  readonly trust?: Confidence;
  readonly onRight?: () => void;
  readonly children: ReactNode;
}

/** One step, filled already; what nobody has confirmed yet is marked. */
export function Card({ title, isOpen, trust, onRight, children }: CardProps) {
  return (
    <section className={isOpen ? 'scan-card scan-card-open' : 'scan-card'}>
      <div className="scan-card-head">
        <h3>{title}</h3>
        {isOpen === true && (
          <span className="scan-chip">{trust === undefined ? T.proposed : T.proposedSure(T.trust[trust])}</span>
        )}
        {isOpen === false && <span className="scan-chip scan-chip-said">{T.said}</span>}
        {isOpen === true && onRight !== undefined && (
          <button type="button" onClick={onRight}>
            {T.right}
          </button>
        )}
      </div>
      {children}
    </section>
  );
}

export interface UnitCardProps {
  readonly first: ScanProposal;
  readonly said: ScanUnit | null;
  readonly inForce: ScanUnit;
  readonly onUnit: (unit: ScanUnit) => void;
}

export function UnitCard({ first, said, inForce, onUnit }: UnitCardProps) {
  const reasons = [first.unit, ...first.unit.alternatives];
  const because = reasons.find(({ value }) => value === inForce)?.reason ?? first.unit.reason;
  return (
    <Card
      title={UNIT.title(UNIT.names[inForce])}
      isOpen={said === null}
      trust={first.unit.confidence}
      onRight={() => onUnit(inForce)}
    >
      <p className="small">{because.replace(/^In in /, UNIT.inInches)}</p>
      <div className="scan-row">
        <fieldset className="switch">
          <legend className="visually-hidden">{UNIT.ofFile}</legend>
          {(Object.keys(UNIT_MM) as ScanUnit[]).map((unit) => (
            <button key={unit} type="button" aria-pressed={unit === inForce} onClick={() => onUnit(unit)}>
              {unit}
            </button>
          ))}
        </fieldset>
      </div>
    </Card>
  );
}
