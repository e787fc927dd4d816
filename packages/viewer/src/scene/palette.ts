/** Colours of things in the scene, sRGB. Map colours come from the maps; these only carry shape. */
export interface ScenePalette {
  readonly ground: string;
  readonly clay: string;
  readonly clayDeep: string;
  /** The shoulder blade's patch on the clay. */
  readonly patch: string;
  readonly wood: string;
  readonly ghost: string;
  readonly ink: string;
  readonly accent: string;
}

export const SCENE_PALETTES: Readonly<Record<'light' | 'dark', ScenePalette>> = {
  light: {
    ground: '#f4eee2',
    clay: '#c4ad97',
    clayDeep: '#a08a75',
    patch: '#8f9cb4',
    wood: '#d9b57f',
    ghost: '#8c6b43',
    ink: '#2a2926',
    accent: '#1f56a8',
  },
  dark: {
    ground: '#1c2226',
    clay: '#a8937f',
    clayDeep: '#6f6154',
    patch: '#7388ab',
    wood: '#d2ab74',
    ghost: '#c9a878',
    ink: '#15181a',
    accent: '#93b9f5',
  },
};
