import { defineConfig } from 'vite';
import { catalogPlugin } from './build/catalog-plugin.ts';

/**
 * The command line and the server as one program for Node: `dist/cli/rigworthy.js`. Packages of plain JavaScript go in, since a hundred
 * small files take longer to open than to run; those that bring machine code or find files of their own stay in node_modules.
 */
export default defineConfig({
  plugins: [catalogPlugin()],
  publicDir: false,
  ssr: {
    noExternal: [
      '@noble/curves',
      '@noble/hashes',
      'sorted-btree',
      'zod',
      'yaml',
      'commander',
      'ulid',
      'papaparse',
      'kysely',
      'preact',
      'preact-render-to-string',
      'uqr',
      'fast-xml-parser',
      'geographiclib-geodesic',
    ],
  },
  logLevel: 'warn',
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist/cli',
    emptyOutDir: true,
    sourcemap: true,
    rolldownOptions: {
      treeshake: { moduleSideEffects: [{ test: /\/src\/(?!cli\/)/, sideEffects: false }] },
      input: { rigworthy: 'src/cli/edge.ts' },
      output: { entryFileNames: '[name].js', chunkFileNames: 'parts/[name]-[hash].js' },
    },
  },
});
