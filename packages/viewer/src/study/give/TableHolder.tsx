import type { ReactNode } from 'react';
import { TEXTS } from '../../look/texts.ts';

/** A table that slides sideways where it is wider than the sheet, by keys too. */
export function TableHolder({ name, children }: { name: string; children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a section here would be one more heading's place in the outline
    <div
      className="study-table-holder"
      role="group"
      aria-label={TEXTS.give.table(name)}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable with the keyboard
      tabIndex={0}
    >
      {children}
    </div>
  );
}
