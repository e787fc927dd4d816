import { InputError } from '../numeric/input-error.ts';

/**
 * Names in an order in which each comes after those it depends on. Every value is visited once, so a chain of doubling
 * expressions stays linear. Throws InputError 'cycle' naming the loop.
 */
export function orderValues(dependencies: ReadonlyMap<string, readonly string[]>): string[] {
  const done = new Set<string>();
  const order: string[] = [];
  for (const start of dependencies.keys()) visitFrom(start, dependencies, done, order);
  return order;
}

/** Depth first with its own stack: a long chain must not end the program. */
function visitFrom(
  start: string,
  dependencies: ReadonlyMap<string, readonly string[]>,
  done: Set<string>,
  order: string[],
) {
  if (done.has(start)) return;
  const path = [{ name: start, next: 0 }];
  const onPath = new Set([start]);
  while (path.length > 0) {
    const top = path[path.length - 1]!;
    const needed = dependencies.get(top.name)?.[top.next++];
    if (needed === undefined) {
      path.pop();
      onPath.delete(top.name);
      done.add(top.name);
      order.push(top.name);
    } else if (onPath.has(needed)) {
      throw cycle(
        path.map((entry) => entry.name),
        needed,
      );
    } else if (!done.has(needed)) {
      path.push({ name: needed, next: 0 });
      onPath.add(needed);
    }
  }
}

function cycle(path: readonly string[], again: string): InputError {
  const loop = [...path.slice(path.indexOf(again)), again];
  const shown = loop.length > 12 ? [...loop.slice(0, 6), '...', ...loop.slice(-5)] : loop;
  return new InputError({
    code: 'cycle',
    field: again,
    got: shown.join(' -> '),
    expected: 'values that do not depend on themselves',
    remedy: `give one of them a number: ${shown.slice(0, -1).join(', ')}`,
  });
}
