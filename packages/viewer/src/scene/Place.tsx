import { useThree } from '@react-three/fiber';
import { useLayoutEffect } from 'react';
import { DoubleSide } from 'three';
import type { BarView, FitView } from '../contract.ts';
import { useView } from '../state/hooks.ts';
import { addRibbon, createRibbons, type Ribbons, ribbonTriangles } from './build/contours.ts';
import { dynamicGeometry, touched, useGeometry } from './use-geometry.ts';

const MOST = 2000;
const WIDTH_MM = 4;

/** Where the chosen finding is: a line along both edges of the bars it names, between its two stations. */
export function Place({ fit, colour }: { fit: FitView; colour: string }) {
  const { invalidate } = useThree();
  const selected = useView((view) => view.selectedFinding);
  const isLaidOn = useView((view) => view.isLaidOn);
  const geometry = useGeometry('', () => {
    const ribbons = createRibbons(MOST);
    const made = dynamicGeometry({ position: [ribbons.positions, 3] }, ribbonTriangles(MOST));
    made.userData.ribbons = ribbons;
    return made;
  });
  useLayoutEffect(() => {
    const ribbons = geometry.userData.ribbons as Ribbons;
    ribbons.count = 0;
    const finding = selected === null ? undefined : fit.result.findings[selected];
    if (finding !== undefined) {
      for (const side of ['left', 'right'] as const)
        if (finding.side === 'both' || finding.side === side)
          outline((isLaidOn ? fit.laidOnBars : fit.bars)[side], finding.fromMm, finding.toMm, ribbons);
    }
    geometry.setDrawRange(0, 6 * ribbons.count);
    touched(geometry, 'position');
    invalidate();
  }, [fit, selected, isLaidOn, geometry, invalidate]);
  return (
    <mesh geometry={geometry} frustumCulled={false} renderOrder={7}>
      <meshBasicMaterial color={colour} side={DoubleSide} depthTest={false} transparent />
    </mesh>
  );
}

function outline(bar: BarView, fromXMm: number, toXMm: number, out: Ribbons): void {
  const inside: number[] = [];
  for (let i = 0; i < bar.rows; i++) {
    const x = bar.positions[3 * (i * bar.columns + (bar.columns >> 1))]!;
    if (x >= Math.min(fromXMm, toXMm) && x <= Math.max(fromXMm, toXMm)) inside.push(i);
  }
  const join = (a: number, b: number): void => addRibbon(bar, a, bar.positions, 3 * a, 3 * b, WIDTH_MM, out);
  for (const column of [0, bar.columns - 1])
    for (let k = 0; k + 1 < inside.length; k++)
      join(inside[k]! * bar.columns + column, inside[k + 1]! * bar.columns + column);
  for (const row of inside.length === 0 ? [] : [inside[0]!, inside[inside.length - 1]!])
    for (let j = 0; j + 1 < bar.columns; j++) join(row * bar.columns + j, row * bar.columns + j + 1);
}
