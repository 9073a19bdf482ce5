import { defineConfig } from 'vite';

/** Node 20 does not run TypeScript: the server is bundled, its libraries stay in node_modules. */
export default defineConfig({
  root: import.meta.dirname,
  build: {
    ssr: 'server.ts',
    outDir: '../.build/server',
    emptyOutDir: true,
    target: 'node20',
    sourcemap: true,
  },
});
