export type { BackSurface, Landmarks, Measured, PathAccuracy, Vec3 } from './back-surface.ts';
export { type BackSources, buildBack, type LegForward } from './build-back.ts';
export { buildScanBack, type ScanBackOptions, type ScanBackReport } from './build-scan-back.ts';
export { type BladePositions, buildSectionsBack, STANDING } from './build-sections-back.ts';
export { measurePathAccuracy } from './measure-path-accuracy.ts';
export { type BackDocument, backJsonSchema, readBack } from './read-back.ts';
export { type ScanBackDocument, scanBackSchema } from './scan-schema.ts';
export { createSectionHeight, createSurfaceJet, type SectionHeight, type SurfaceJet } from './section-height.ts';
export { type SectionsBackDocument, sectionsBackSchema } from './sections-schema.ts';
