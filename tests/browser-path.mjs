import { existsSync } from 'node:fs';

/** Flags for a headless Chromium that draws WebGL in software and asks the network for nothing. */
export const chromiumArgs = [
  '--no-sandbox',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-quic',
  '--no-first-run',
  '--disable-dev-shm-usage',
];

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
