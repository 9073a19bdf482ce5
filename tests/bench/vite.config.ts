import { defineConfig } from 'vite';

/** Node 20 does not run TypeScript: the bench is bundled before it runs, each section in a file of its own. */
export default defineConfig({
  root: import.meta.dirname,
  build: {
    ssr: 'run.ts',
    outDir: '../../.build/bench',
    emptyOutDir: true,
    target: 'node20',
    minify: false,
    // Beside each other, so that all see the folder of the sources at the same place.
    rolldownOptions: { output: { chunkFileNames: '[name].js' } },
  },
});
