export { ConnectedRuler } from './ConnectedRuler.tsx';
export { Ruler } from './Ruler.tsx';
export type { RulerProps } from './ruler-props.ts';
