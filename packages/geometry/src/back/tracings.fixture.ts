import { seededRandom } from '../numeric/index.ts';
import { type DemoBack, demoBack } from './demo-backs.fixture.ts';
import { createSectionHeight, type SectionHeight } from './section-height.ts';
import type { TracingDocumentCurve, TracingsBackDocument } from './tracings-schema.ts';

export const surfaceOf = (name: DemoBack): SectionHeight => createSectionHeight(demoBack(name), { left: 0, right: 0 });

export interface CutOptions {
  readonly everyMm?: number;
  readonly fromMm?: number;
  readonly toMm?: number;
  /** Largest error of each height, mm, even, from this seed. */
  readonly noise?: { readonly mm: number; readonly seed: number };
}

/** Paper tracings of a demo back: a point each 12 mm from -240 to 240, level marks, stations behind the blade edge. */
export function cutTracings(name: DemoBack, options: CutOptions = {}): TracingsBackDocument {
  const { everyMm = 50, fromMm = -100, toMm = 600, noise } = options;
  const surface = surfaceOf(name);
  const random = seededRandom(noise?.seed ?? 0);
  const curves: TracingDocumentCurve[] = [];
  for (let x = fromMm; x <= toMm; x += everyMm) {
    const row = surface.row(x);
    const points = Array.from({ length: 41 }, (_, k): [number, number] => {
      const y = -240 + 12 * k;
      return [y, row(y) + (noise === undefined ? 0 : noise.mm * (2 * random() - 1))];
    });
    curves.push({ id: `x${x}`, kind: 'cross', stationMm: x, side: 'both', level: { point: [0, 0] }, points });
  }
  return {
    schema: 'barwright/back/1',
    kind: 'tracings',
    name: `${name}, traced`,
    unit: 'mm',
    curves,
    measured: { by: 'made from the demo back', on: '2024-05-01', uncertaintyMm: 0.5, uncertaintyDeg: 1 },
  };
}

/** The document with one curve changed. */
export const withCurve = (
  doc: TracingsBackDocument,
  id: string,
  change: (curve: TracingDocumentCurve) => TracingDocumentCurve,
): TracingsBackDocument => ({ ...doc, curves: doc.curves.map((c) => (c.id === id ? change(c) : c)) });

export const mapPoints = (
  curve: TracingDocumentCurve,
  change: (y: number, z: number) => [number, number],
): TracingDocumentCurve => ({ ...curve, points: curve.points.map((p) => change(p[0], p[1])) });
