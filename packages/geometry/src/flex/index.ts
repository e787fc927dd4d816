export {
  type BarStructure,
  buildBarStructure,
  buildTreeFlex,
  type Elastic,
  type FlexOptions,
} from './build-bar-flex.ts';
export { addCellForces, addCellStiffness, type CellGrid, createCellGrid, displaceCells } from './cell-grid.ts';
export type { FlexBar, FlexTree } from './flex-bar.ts';
export { type Laminate, laminate, type PlyStiffness } from './laminate.ts';
export { type PressedShell, pressShell, type SpringBed } from './press-shell.ts';
export { addBed, addRail, addSpring, assembleShell } from './shell-stiffness.ts';
export { createPatch, type ShellPatch } from './shell-strains.ts';
export { createSurfaceJet, flatSurface, type ShellSurface, type SurfaceJet } from './shell-surface.ts';
