import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: `${import.meta.dirname}/..`,
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 30_000,
    hookTimeout: 120_000,
    unstubGlobals: true,
    restoreMocks: true,
  },
});
