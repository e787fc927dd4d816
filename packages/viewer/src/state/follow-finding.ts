import type { Finding } from '@barwright/geometry';

type Named = Pick<Finding, 'code' | 'side'>;

/** Where the chosen finding is in a newer list: the same kind on the same side, else the same kind, else nowhere. */
export function followFinding(chosen: number | null, before: readonly Named[], now: readonly Named[]): number | null {
  const finding = chosen === null ? undefined : before[chosen];
  if (finding === undefined) return null;
  const exact = now.findIndex(({ code, side }) => code === finding.code && side === finding.side);
  const alike = exact >= 0 ? exact : now.findIndex(({ code }) => code === finding.code);
  return alike >= 0 ? alike : null;
}
