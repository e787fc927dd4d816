/** Up to `count` of the known names that look like the wanted one, nearest first. Shared beginnings count as near. */
export function nearNames(wanted: string, known: Iterable<string>, count = 4): string[] {
  const word = wanted.slice(0, 40).toLowerCase();
  return [...known]
    .map((name) => ({ name, cost: nameCost(word, name.toLowerCase()) }))
    .filter((entry) => entry.cost <= Math.max(2, word.length / 2))
    .sort((a, b) => a.cost - b.cost || (a.name < b.name ? -1 : 1))
    .slice(0, count)
    .map((entry) => entry.name);
}

function nameCost(word: string, name: string): number {
  if (word.length >= 3 && (name.startsWith(word) || word.startsWith(name))) return 1;
  return editDistance(word, name);
}

/** Fewest insertions, deletions and replacements. Source: Wagner & Fischer, J. ACM 21 (1974) 168-173, from memory. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const swap = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(swap, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
