/** A copy with the value at a dotted path replaced; a whole number or a name picks from a list. Unknown steps are made, and left to the schema to refuse. */
export function setAtPath(target: unknown, path: string, value: unknown): unknown {
  const dot = path.indexOf('.');
  const head = dot < 0 ? path : path.slice(0, dot);
  if (head === '__proto__' || head === 'constructor' || head === 'prototype') return target;
  const isPicked = (item: unknown, i: number): boolean =>
    String(i) === head || (item as { name?: unknown })?.name === head;
  const child = Array.isArray(target) ? target.find(isPicked) : (target as Record<string, unknown> | null)?.[head];
  const next = dot < 0 ? value : setAtPath(child ?? {}, path.slice(dot + 1), value);
  if (Array.isArray(target)) return target.map((item, i) => (isPicked(item, i) ? next : item));
  return { ...(target as Record<string, unknown>), [head]: next };
}
