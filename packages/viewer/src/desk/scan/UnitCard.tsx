import type { Confidence, ScanProposal, ScanUnit } from '@barwright/geometry';
import type { ReactNode } from 'react';
import { TRUST_SAYS } from './mark-texts.ts';
import { UNIT_MM } from './scan-way.ts';

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
          <span className="scan-chip">proposed{trust === undefined ? '' : `, ${TRUST_SAYS[trust]}`}</span>
        )}
        {isOpen === false && <span className="scan-chip scan-chip-said">you said so</span>}
        {isOpen === true && onRight !== undefined && (
          <button type="button" onClick={onRight}>
            That is right
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
      title={`Unit: ${UNIT_SAYS[inForce]}`}
      isOpen={said === null}
      trust={first.unit.confidence}
      onRight={() => onUnit(inForce)}
    >
      <p className="small">{because.replace(/^In in /, 'In inches ')}</p>
      <div className="scan-row">
        <fieldset className="switch">
          <legend className="visually-hidden">Unit of the file</legend>
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

const UNIT_SAYS: Readonly<Record<ScanUnit, string>> = { mm: 'mm', cm: 'cm', m: 'metres', in: 'inches' };
