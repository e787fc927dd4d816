import { CAUTIONS } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';

/** One quiet line that opens to everything the bench must say beside its figures. */
export function Cautions({ isOpen, onToggle }: { isOpen: boolean; onToggle: (open: boolean) => void }) {
  return (
    <details className="cautions" open={isOpen} onToggle={(event) => onToggle(event.currentTarget.open)}>
      <summary>
        {TEXTS.reading.cautions}: {CAUTIONS[0]!.short.charAt(0).toLowerCase() + CAUTIONS[0]!.short.slice(1)}
      </summary>
      <ol>
        {CAUTIONS.map((caution) => (
          <li key={caution.id}>{caution.full}</li>
        ))}
      </ol>
    </details>
  );
}

/** A single caution, beside the figure it belongs to. */
export function CautionFor({ id }: { id: string }) {
  const caution = CAUTIONS.find((one) => one.id === id)!;
  return <p className="caution small">{caution.short}</p>;
}
