import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';
import { offline } from './build/offline.ts';

/** Geometry's modules only define things: what the page doesn't use of them stays in the worker and the lazy parts. */
const moduleSideEffects = (id: string): boolean =>
  !/packages[\\/]geometry[\\/]src[\\/]/.test(id) && !/[\\/](zod|mathjs)[\\/]/.test(id);

export default defineConfig({
  plugins: [react(), offline(['icon.svg'])],
  base: './',
  resolve: { conditions: ['barwright-source', 'module', 'browser', 'development|production'] },
  worker: { format: 'es', rolldownOptions: { treeshake: { moduleSideEffects } } },
  build: { target: 'es2022', chunkSizeWarningLimit: 1500, rolldownOptions: { treeshake: { moduleSideEffects } } },
});
