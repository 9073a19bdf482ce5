import { defineConfig } from 'vitest/config';

const shared = {
  root: `${import.meta.dirname}/..`,
  unstubGlobals: true,
  restoreMocks: true,
  setupFiles: ['./tests/support/quiet-console.ts'],
  testTimeout: 60_000,
  hookTimeout: 180_000,
};

export default defineConfig({
  root: `${import.meta.dirname}/..`,
  test: {
    reporters: ['default', './tests/support/last-line-reporter.ts'],
    projects: [
      {
        root: `${import.meta.dirname}/..`,
        test: {
          ...shared,
          name: 'unit',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/{db,api,server,e2e}/**'],
        },
      },
      {
        root: `${import.meta.dirname}/..`,
        test: {
          ...shared,
          name: 'database',
          include: ['tests/{db,api,server}/**/*.test.ts'],
          globalSetup: './tests/support/database-setup.ts',
          testTimeout: 180_000,
        },
      },
      {
        root: `${import.meta.dirname}/..`,
        test: { ...shared, name: 'browser', include: ['tests/e2e/**/*.test.ts'], testTimeout: 180_000 },
      },
      {
        root: `${import.meta.dirname}/..`,
        test: {
          ...shared,
          name: 'pictures',
          include: ['tests/pictures/*.pictures.ts'],
          testTimeout: 180_000,
        },
      },
    ],
  },
});
