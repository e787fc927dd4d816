export { checkDocument } from './check-document.ts';
export { diffFromParent, diffPatterns, type PatternDifference, parentDocument } from './diff-pattern.ts';
export { evaluateExpression, type Quantity } from './evaluate-expression.ts';
export type { ResolvedValue } from './evaluate-values.ts';
export { listPatternFields, type PatternField, type StationPlace, stationKey } from './list-fields.ts';
export { nearNames } from './near-names.ts';
export { type Expression, parseExpression } from './parse-expression.ts';
export {
  BAR_FIELDS,
  DEFAULT_MATERIALS,
  type FieldKind,
  type FieldSpec,
  STATION_FIELDS,
  type StationFieldSpec,
} from './pattern-fields.ts';
export {
  PATTERN_SCHEMA,
  type PatternDocument,
  type PatternValue,
  patternJsonSchema,
  patternSchema,
} from './pattern-schema.ts';
export { readPattern } from './read-pattern.ts';
export {
  type BarParameters,
  type PatternRemark,
  type ResolvedPattern,
  type ResolvedStation,
  resolvePattern,
  type SharedParameters,
} from './resolve-pattern.ts';
export { DEFAULT_WORD, setPatternValue, setPatternValues } from './set-value.ts';
