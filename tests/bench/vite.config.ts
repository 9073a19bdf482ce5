import { defineConfig } from 'vite';

/** Node 20 does not run TypeScript: the bench is bundled before it runs. */
export default defineConfig({
  root: import.meta.dirname,
  build: {
    ssr: 'run.ts',
    outDir: '../../.build/bench',
    emptyOutDir: true,
    target: 'node20',
    minify: false,
  },
});
