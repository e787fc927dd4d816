type Numbers = ArrayLike<number>;

const at = (v: number): string => v.toFixed(2);

/** Runs of indices where the values are numbers: [first, last] each. */
export function dataRuns(values: Numbers): [number, number][] {
  const runs: [number, number][] = [];
  let start = -1;
  for (let i = 0; i <= values.length; i++) {
    const known = i < values.length && !Number.isNaN(values[i]!);
    if (known && start < 0) start = i;
    if (!known && start >= 0) {
      runs.push([start, i - 1]);
      start = -1;
    }
  }
  return runs;
}

/** Stretches between data: [first, last] index of what bounds them, so that they touch the curve's ends. */
export function missingRuns(values: Numbers): [number, number][] {
  const missing: [number, number][] = [];
  let from = 0;
  for (const [first, last] of dataRuns(values)) {
    if (first > from) missing.push([from, first]);
    from = last;
  }
  if (values.length > 0 && Number.isNaN(values[values.length - 1]!)) missing.push([from, values.length - 1]);
  return missing;
}

/** Polyline through the known values, broken where there is no data. */
export function linePath(x: Numbers, y: Numbers): string {
  return dataRuns(y)
    .map(([first, last]) => {
      let path = `M${at(x[first]!)} ${at(y[first]!)}`;
      for (let i = first + 1; i <= last; i++) path += `L${at(x[i]!)} ${at(y[i]!)}`;
      return path;
    })
    .join('');
}

/** The area between the curve and a level line. */
export function areaPath(x: Numbers, y: Numbers, levelY: number): string {
  return dataRuns(y)
    .map(([first, last]) => {
      let path = `M${at(x[first]!)} ${at(levelY)}`;
      for (let i = first; i <= last; i++) path += `L${at(x[i]!)} ${at(y[i]!)}`;
      return `${path}L${at(x[last]!)} ${at(levelY)}Z`;
    })
    .join('');
}

/** Steps of constant height around each x, standing on a level line. Steps meet half-way between neighbours. */
export function stepPath(x: Numbers, y: Numbers, levelY: number): string {
  const n = x.length;
  if (n < 2) return '';
  const edge = (i: number): number => {
    if (i === 0) return x[0]! - (x[1]! - x[0]!) / 2;
    if (i === n) return x[n - 1]! + (x[n - 1]! - x[n - 2]!) / 2;
    return (x[i - 1]! + x[i]!) / 2;
  };
  let path = `M${at(edge(0))} ${at(levelY)}`;
  for (let i = 0; i < n; i++) path += `V${at(Number.isNaN(y[i]!) ? levelY : y[i]!)}H${at(edge(i + 1))}`;
  return `${path}V${at(levelY)}Z`;
}

/** Linear between the knots of rising x; NaN outside them or beside missing data. */
export function valueAt(x: Numbers, y: Numbers, place: number): number {
  for (let i = 1; i < x.length; i++) {
    if (place < x[i - 1]! || place > x[i]!) continue;
    const share = (place - x[i - 1]!) / (x[i]! - x[i - 1]!);
    return y[i - 1]! + share * (y[i]! - y[i - 1]!);
  }
  return Number.NaN;
}

export const mapped = (values: Numbers, to: (v: number) => number): number[] => Array.from(values, to);
