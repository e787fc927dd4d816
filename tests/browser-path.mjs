import { existsSync } from 'node:fs';

const quietArgs = [
  '--no-sandbox',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-quic',
  '--no-first-run',
  '--disable-dev-shm-usage',
];

/** Flags for a headless Chromium that draws WebGL in software and asks the network for nothing. */
export const chromiumArgs = [
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  // The page itself is put together by the processor: through software GL that cost four times the picture's own drawing.
  '--disable-gpu-compositing',
  ...quietArgs,
];

/** Flags for one without WebGL, as on a computer whose graphics are off: pages are painted by the processor alone. */
export const flatArgs = ['--disable-gpu', '--disable-3d-apis', ...quietArgs];

/** The browser the tests drive: CHROMIUM_PATH, else the packaged one, else the system's. */
export async function chromiumPath() {
  if (process.env.CHROMIUM_PATH) return process.env.CHROMIUM_PATH;
  try {
    return await (await import('@sparticuz/chromium')).default.executablePath();
  } catch (error) {
    if (existsSync('/usr/bin/chromium')) return '/usr/bin/chromium';
    throw error;
  }
}
