import {
  barToHorse,
  type Fit,
  lengthwiseProfile,
  loadPoint,
  type SeatedTree,
  transformPoint,
  zoneLoads,
} from '@barwright/geometry';
import type { FitView } from '../contract.ts';
import { viewBar } from './bar-view.ts';
import type { BarsView } from './inputs.ts';
import { viewTree } from './tree-view.ts';

const profiles = (seated: SeatedTree) => ({
  left: lengthwiseProfile(seated, 'left'),
  right: lengthwiseProfile(seated, 'right'),
});

const bars = (seated: SeatedTree) => ({ left: viewBar(seated, 'left'), right: viewBar(seated, 'right') });

/** What is drawn from the loaded seating alone. */
export function viewBars(seated: SeatedTree, version: number, isPassing = false): BarsView {
  const [x, y, z] = loadPoint(seated.tree, seated.setup);
  return {
    version,
    isPassing,
    bars: bars(seated),
    profiles: profiles(seated),
    tree: viewTree(seated),
    layersMm: seated.stack.thicknessMm,
    loadAtXMm: transformPoint(barToHorse(seated.seat.pose), x, y, z)[0],
    zones: zoneLoads(seated),
  };
}

export function viewFit(fit: Fit, version: number, detail: 'figures' | 'full'): FitView {
  return {
    ...viewBars(fit.seated, version),
    detail,
    result: fit.result,
    laidOnProfiles: profiles(fit.laidOn),
    laidOnBars: bars(fit.laidOn),
    laidOnTree: viewTree(fit.laidOn),
  };
}
