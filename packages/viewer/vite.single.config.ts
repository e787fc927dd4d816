import { readFileSync } from 'node:fs';
import { defineConfig, mergeConfig } from 'vite';
import { inlineWorkers } from './build/inline-workers.ts';
import { oneFile } from './build/one-file.ts';
import bench from './vite.config.ts';

const icon = readFileSync(new URL('./public/icon.svg', import.meta.url), 'utf8');

/** The page for a server has parts beside it; this one has none, so nothing lists them. */
const withoutParts = { ...bench, plugins: (bench.plugins ?? []).flat().filter((plugin) => !isOffline(plugin)) };

function isOffline(plugin: unknown): boolean {
  return typeof plugin === 'object' && plugin !== null && 'name' in plugin && plugin.name === 'offline';
}

/** The bench in one file, dist/one-file/barwright.html: opened by double click, without a server or a network. */
export default mergeConfig(
  withoutParts,
  defineConfig({
    plugins: [inlineWorkers(), oneFile('barwright.html', icon)],
    publicDir: false,
    worker: { format: 'iife', rolldownOptions: { output: { codeSplitting: false } } },
    build: {
      outDir: 'dist/one-file',
      assetsInlineLimit: () => true,
      cssCodeSplit: false,
      modulePreload: false,
      chunkSizeWarningLimit: 20_000,
      rolldownOptions: { output: { codeSplitting: false } },
    },
  }),
);
