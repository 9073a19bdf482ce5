import { defineConfig } from 'vite';
import react from '@vitejs/plugin-react';

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react()],
  build: { outDir: '../.build/web', emptyOutDir: true, chunkSizeWarningLimit: 1500 },
  worker: { format: 'es' },
});
