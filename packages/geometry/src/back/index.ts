export type { BackSurface, Landmarks, Measured, PathAccuracy, Vec3 } from './back-surface.ts';
export { type BackSources, buildBack } from './build-back.ts';
export { type BladePositions, buildSectionsBack, STANDING } from './build-sections-back.ts';
export { measurePathAccuracy } from './measure-path-accuracy.ts';
export { type BackDocument, backJsonSchema, readBack } from './read-back.ts';
export { createSectionHeight, createSurfaceJet, type SectionHeight, type SurfaceJet } from './section-height.ts';
export { type SectionsBackDocument, sectionsBackSchema } from './sections-schema.ts';
