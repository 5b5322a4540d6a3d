import { defineConfig } from 'vitest/config';
import { catalogPlugin } from '../../build/catalog-plugin.ts';

/** The tests of one mutation run: `scripts/mutate.ts` says which. Mutants that loop are cut off by the run itself. */
export default defineConfig({
  plugins: [catalogPlugin()],
  test: {
    include: JSON.parse(process.env.MUTATE_TESTS ?? '[]'),
    setupFiles: ['test/support/property-seed.ts'],
    testTimeout: 60_000,
    environment: 'node',
  },
});
