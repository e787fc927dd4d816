export { CLEAN_MESH_DEFAULTS, type CleanMeshOptions, type CleanMeshReport, cleanMesh } from './clean-mesh.ts';
export { type MeshFromPoints, type MeshFromPointsOptions, meshFromPoints, scatterAlong } from './mesh-from-points.ts';
export { boundaryEdges, type MeshBounds, medianEdgeLength, meshAreaMm2, meshBounds } from './mesh-measures.ts';
export { hearingPhases, type PhaseListener, tellPhase, type WorkPhase } from './phase-listener.ts';
export type { TriangleMesh } from './triangle-mesh.ts';
