import { DoubleSide } from 'three';

/** Depth steps by which the clay stands back, about 2 mm at arm's length: a bar laid on it is not swallowed by its facets. */
const BEHIND = 150;

export interface ClayProps {
  /** Left out where the vertices carry their own. */
  readonly colour?: string;
  /** Seen from under it thins, so that the undersides show. */
  readonly ghosted?: boolean;
}

/** The matt clay that backs are cast in. */
export function Clay({ colour, ghosted = false }: ClayProps) {
  return (
    <meshStandardMaterial
      key={String(ghosted)}
      {...(colour === undefined ? { vertexColors: true } : { color: colour })}
      roughness={1}
      metalness={0}
      side={DoubleSide}
      transparent={ghosted}
      opacity={ghosted ? 0.1 : 1}
      depthWrite={!ghosted}
      polygonOffset
      polygonOffsetFactor={2}
      polygonOffsetUnits={BEHIND}
    />
  );
}
