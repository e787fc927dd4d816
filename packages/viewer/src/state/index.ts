export {
  beginDrag,
  closeLesson,
  endDrag,
  goToStep,
  loadEditor,
  openBack,
  openLesson,
  openPattern,
  openSetup,
  redo,
  refuse,
  setSetup,
  setValue,
  startFromHere,
  undo,
} from './actions.ts';
export type { Documents, EditOutcome, OpenedBack, OpenedLesson } from './documents.ts';
export { useCanRedo, useCanUndo, useDocument, useResult, useSentence, useView } from './hooks.ts';
export type { PatternView, RefusedEdit, ResultState } from './result-state.ts';
export { documentStore, resultStore, viewStore } from './stores.ts';
export { nextVersionName } from './version-name.ts';
export { lookFrom, setStation, setUnits, setView } from './view-actions.ts';
export {
  BENDING_TIMES,
  COLOUR_MODES,
  type ColourMode,
  type Units,
  VIEW_DEFAULTS,
  type ViewFrom,
  type ViewState,
} from './view-state.ts';
