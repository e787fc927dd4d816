export { ConnectedRuler } from './ConnectedRuler.tsx';
export { Ruler, type RulerProps } from './Ruler.tsx';
