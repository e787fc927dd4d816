/** The name of a version made from a pattern: `Post` gives `Post, version 2`, that gives `Post, version 3`. */
export function nextVersionName(name: string): string {
  const found = /^(.*), version (\d{1,4})$/.exec(name);
  const base = (found?.[1] ?? name).slice(0, 100);
  return `${base}, version ${found === null ? 2 : Number(found[2]) + 1}`;
}
