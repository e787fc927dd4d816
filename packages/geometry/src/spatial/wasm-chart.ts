import type { Chart } from './chart.ts';
import type { FootRows } from './distance-field.ts';
import { CHART_KERNEL_BYTES } from './wasm-chart-bytes.ts';

/** First feet on one chart by a WebAssembly kernel: single precision, four points at a time. */
export interface WasmChart {
  /**
   * Fills distance, foot, normal and data of rows [from, to), within about 0.002 mm of evaluateChart at the distances that
   * bars have (-15 ... +20 mm). Rows are good to start from (`nearRows`), not to publish.
   */
  evaluate(pointsMm: Float64Array, from: number, to: number, out: FootRows): void;
}

interface KernelExports {
  readonly memory: { readonly buffer: ArrayBuffer; grow(pages: number): number };
  feet(
    chart: number,
    okAt: number,
    nu: number,
    nv: number,
    v0Mm: number,
    cellMm: number,
    cosTilt: number,
    sinTilt: number,
    points: number,
    n: number,
    out: number,
  ): void;
}

/** What this file needs of the engine's WebAssembly, which the language's own types leave out. */
interface Engine {
  readonly Module: new (bytes: Uint8Array<ArrayBuffer>) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: unknown };
}

declare const WebAssembly: Engine | undefined;

const PAGE = 65536;
/** Clear of the compiler's own first bytes. */
const CHART_AT = 1024;
/** Points handed over at a time. */
const BLOCK = 2048;
const COLUMNS_IN = 3;
const COLUMNS_OUT = 8;

/** The chart copied into a kernel's memory; null where the engine has no WebAssembly with SIMD. */
export function createWasmChart(chart: Chart): WasmChart | null {
  const kernel = startKernel();
  if (kernel === null) return null;
  const okAt = CHART_AT + 4 * chart.coefficients.length + 16;
  const pointsAt = 16 * Math.ceil((okAt + chart.stencilOk.length) / 16);
  const outAt = pointsAt + 4 * COLUMNS_IN * BLOCK;
  const end = outAt + 4 * COLUMNS_OUT * BLOCK;
  const missing = Math.ceil((end - kernel.memory.buffer.byteLength) / PAGE);
  if (missing > 0) kernel.memory.grow(missing);
  const { buffer } = kernel.memory;
  new Float32Array(buffer, CHART_AT, chart.coefficients.length).set(chart.coefficients);
  new Uint8Array(buffer, okAt, chart.stencilOk.length).set(chart.stencilOk);
  const points = new Float32Array(buffer, pointsAt, COLUMNS_IN * BLOCK);
  const answers = new Float32Array(buffer, outAt, COLUMNS_OUT * BLOCK);
  const { nu, nv, u0Mm, v0Mm, cellMm, cosTilt, sinTilt } = chart;
  return {
    evaluate(pointsMm, from, to, out) {
      for (let at = from; at < to; at += BLOCK) {
        const n = Math.min(BLOCK, to - at);
        const padded = 4 * Math.ceil(n / 4);
        points.fill(Number.NaN, n, padded);
        putPoints(pointsMm, at, n, padded, u0Mm, points);
        kernel.feet(CHART_AT, okAt, nu, nv, v0Mm, cellMm, cosTilt, sinTilt, pointsAt, padded, outAt);
        takeRows(answers, at, n, padded, u0Mm, out.distanceMm, out.footMm, out.normal, out.hasData);
      }
    },
  };
}

function startKernel(): KernelExports | null {
  if (typeof WebAssembly === 'undefined') return null;
  try {
    const instance = new WebAssembly.Instance(new WebAssembly.Module(CHART_KERNEL_BYTES), {});
    return instance.exports as KernelExports;
  } catch {
    // An engine without SIMD refuses the module; plain JS then does all of it.
    return null;
  }
}

function putPoints(p: Float64Array, at: number, n: number, padded: number, u0Mm: number, into: Float32Array): void {
  for (let k = 0, j = 3 * at; k < n; k++, j += 3) {
    into[k] = p[j] - u0Mm;
    into[padded + k] = p[j + 1];
    into[2 * padded + k] = p[j + 2];
  }
}

function takeRows(
  answers: Float32Array,
  at: number,
  n: number,
  padded: number,
  u0Mm: number,
  distanceMm: Float64Array,
  footMm: Float64Array,
  normal: Float64Array,
  hasData: Uint8Array,
): void {
  for (let k = 0, j = 3 * at; k < n; k++, j += 3) {
    const d = answers[k];
    hasData[at + k] = answers[7 * padded + k] === 1 && d - d === 0 ? 1 : 0;
    distanceMm[at + k] = d;
    footMm[j] = answers[padded + k] + u0Mm;
    footMm[j + 1] = answers[2 * padded + k];
    footMm[j + 2] = answers[3 * padded + k];
    normal[j] = answers[4 * padded + k];
    normal[j + 1] = answers[5 * padded + k];
    normal[j + 2] = answers[6 * padded + k];
  }
}
