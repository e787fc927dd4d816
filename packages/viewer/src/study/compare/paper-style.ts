import tokens from '../../look/tokens.css?inline';
import ruler from '../../ruler/ruler.css?inline';
import own from './compare.css?inline';

/**
 * The style of a drawing that leaves the page: the ruler's own rules with the daylight colours written out, since a
 * program that opens the file knows no tokens.
 */
export function paperStyle(): string {
  const light = /:root\s*\{([^}]*)\}/.exec(tokens)?.[1] ?? '';
  const values = new Map(
    [...light.matchAll(/(--[\w-]+):\s*([^;}]+)/g)].map(([, name, value]) => [name!, value!.trim()]),
  );
  const font = 'svg{font-family:"Source Sans 3",system-ui,sans-serif;font-size:12px}';
  return `${font}${ruler}${own}`.replace(/var\((--[\w-]+)\)/g, (whole, name: string) => values.get(name) ?? whole);
}
