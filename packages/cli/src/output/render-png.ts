import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { initWasm, Resvg } from '@resvg/resvg-wasm';

const require = createRequire(import.meta.url);
const FONTS = ['400Regular/SourceSans3_400Regular.ttf', '600SemiBold/SourceSans3_600SemiBold.ttf'];

/** Pixels to a millimetre of the tree: about 270 to the inch of an A4 sheet. */
const ZOOM = 2.4;

let started: Promise<void> | undefined;

async function start(): Promise<void> {
  await initWasm(await readFile(require.resolve('@resvg/resvg-wasm/index_bg.wasm')));
}

/** The picture of an SVG drawing, set in the packaged type. Nothing of the system's fonts is used, so it is the same everywhere. */
export async function renderPng(svg: string): Promise<Uint8Array> {
  started ??= start();
  await started;
  const fontBuffers = await Promise.all(
    FONTS.map((name) => readFile(require.resolve(`@expo-google-fonts/source-sans-3/${name}`))),
  );
  const font = { fontBuffers, defaultFontFamily: 'Source Sans 3', sansSerifFamily: 'Source Sans 3' };
  const width = Number(/viewBox="0 0 ([\d.]+)/.exec(svg)![1]);
  const picture = new Resvg(svg, { font, fitTo: { mode: 'width', value: Math.round(width * ZOOM) } });
  return picture.render().asPng();
}
