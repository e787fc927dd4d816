import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { writePly } from '../../packages/geometry/src/exchange/write-ply.ts';
import { backHeight, syntheticBack } from './synthetic-back.ts';

export interface BigScan {
  readonly plyPath: string;
  readonly documentPath: string;
  readonly document: Record<string, unknown>;
  readonly bytes: Uint8Array;
  readonly triangles: number;
}

/** A scan and its document, as a person would drop them on the bench. Landmarks on the surface. */
export function bigScanFiles(folder: string, triangles: number): BigScan {
  const mesh = syntheticBack(triangles);
  const bytes = writePly(mesh);
  const on = (x: number, y: number): [number, number, number] => [x, y, backHeight(x, y)];
  const document = {
    schema: 'barwright/back/1',
    kind: 'scan',
    name: 'Sheet',
    mesh: 'sheet.ply',
    unit: 'mm',
    axes: { tail: '+x', right: '+y', up: '+z' },
    landmarks: {
      withersTop: on(60, 0),
      lastRib: on(600, 0),
      bladeEdgeLeft: on(110, -120),
      bladeEdgeRight: on(110, 120),
    },
    measured: { by: 'Quillback Lane bench (invented)', on: '2026-10-12', uncertaintyMm: 3, uncertaintyDeg: 2 },
  };
  const plyPath = join(folder, 'sheet.ply');
  const documentPath = join(folder, 'sheet.back.json');
  writeFileSync(plyPath, bytes);
  writeFileSync(documentPath, JSON.stringify(document));
  return { plyPath, documentPath, document, bytes, triangles: mesh.triangles.length / 3 };
}
