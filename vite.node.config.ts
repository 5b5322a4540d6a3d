import { defineConfig } from 'vite';
import { catalogPlugin } from './build/catalog-plugin.ts';

/** The command line and the server as one program for Node: `dist/cli/rigworthy.js`. Packages stay in node_modules. */
export default defineConfig({
  plugins: [catalogPlugin()],
  publicDir: false,
  logLevel: 'warn',
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist/cli',
    emptyOutDir: true,
    sourcemap: true,
    rolldownOptions: {
      input: { rigworthy: 'src/cli/edge.ts' },
      output: { entryFileNames: '[name].js', chunkFileNames: 'parts/[name]-[hash].js' },
    },
  },
});
