export { ConnectedCut } from './ConnectedCut.tsx';
export { StationCut, type StationCutProps } from './StationCut.tsx';
