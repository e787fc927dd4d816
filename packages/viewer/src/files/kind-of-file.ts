/** What an opened file is taken for: by its ending, and for tables by their first lines. */
export type FileKind = 'json' | 'mesh' | 'tracings' | 'image';

const MESH = /\.(ply|obj|stl|glb|3mf|xyz|pts|asc|txt)$/i;
const IMAGE = /\.(jpe?g|png|webp|heic|bmp|tiff?)$/i;
const HEAD_BYTES = 4096;

export async function kindOfFile(file: File): Promise<FileKind> {
  if (IMAGE.test(file.name)) return 'image';
  if (MESH.test(file.name)) return 'mesh';
  if (/\.svg$/i.test(file.name)) return 'tracings';
  if (/\.csv$/i.test(file.name)) return namesCurves(await file.slice(0, HEAD_BYTES).text()) ? 'tracings' : 'mesh';
  return 'json';
}

/** Rows of tracings carry the name of their curve; rows of bare points don't. */
const namesCurves = (head: string): boolean => /(^|[,:"\s])curve["\s]*,|,\s*"?curve"?\s*(,|\r|\n|$)/im.test(head);
