export { type FindOptions, findAll } from './find-all.ts';
export { type Fit, type FitDetail, type FitOptions, fitTree } from './fit.ts';
export { type FitDocuments, fitDocuments, prepareFit } from './fit-documents.ts';
export type { Cause, CauseName, Finding, FindingCode, FitResult } from './fit-result.ts';
export { summariseFit } from './summarise-fit.ts';
