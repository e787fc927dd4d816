export { CautionFor, Cautions } from './Cautions.tsx';
export { ConnectedCautions, ConnectedReading } from './ConnectedReading.tsx';
export { Reading, type ReadingProps } from './Reading.tsx';
