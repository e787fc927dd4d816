export { type GreatestStrain, greatestStrain } from './bar-strains.ts';
export {
  type BarStructure,
  buildBarStructure,
  type FlexOptions,
  gridOnBar,
  type ShellMesh,
} from './build-bar-flex.ts';
export { addCellForces, addCellStiffness, type CellGrid, createCellGrid, displaceCells } from './cell-grid.ts';
export { deflectionLift } from './deflection.ts';
export type { FlexBar, FlexTree } from './flex-bar.ts';
export { GROUND_SEAT_N_PER_MM2, type GroundSeat } from './ground-seat.ts';
export { type Elastic, type Layup, type LayupAt, type StiffPly, stiffPly } from './plies.ts';
export { type PressedShell, pressShell, type SpringBed } from './press-shell.ts';
export { addBed, addRail, addSpring, assembleShell } from './shell-stiffness.ts';
export { createPatch, type ShellPatch } from './shell-strains.ts';
export { createSurfaceJet, flatSurface, type ShellSurface, type SurfaceJet } from './shell-surface.ts';
