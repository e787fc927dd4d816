/** Inks of a printed sheet. */
export const PAPER = '#fbf8f1';
export const INK = '#2b2722';
export const LIGHT_INK = '#857d71';
export const FAINT_INK = '#cfc7b8';
/** The one accent: what is marked on top of the map. */
export const ACCENT = '#1f5c8b';
export const FONT = "'Source Sans 3', 'Source Sans 3 Variable', sans-serif";
