import { defineConfig } from 'vitest/config';
import { catalogPlugin } from './build/catalog-plugin.ts';

/** One project a kind of test, so that each can be run alone: `npx vitest run --project unit`. */
const project = (name: string, include: string[], seconds: number) => ({
  plugins: [catalogPlugin()],
  test: {
    name,
    include,
    setupFiles: ['test/support/property-seed.ts'],
    testTimeout: seconds * 1000,
    hookTimeout: seconds * 1000,
    environment: 'node' as const,
  },
});

export default defineConfig({
  test: {
    projects: [
      project('unit', ['src/**/*.test.ts'], 20),
      project('outside', ['test/outside/**/*.test.ts'], 60),
      project('slow', ['test/slow/**/*.test.ts'], 240),
      project('browser', ['test/browser/**/*.test.ts'], 120),
    ],
  },
});
