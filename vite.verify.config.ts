import { readFileSync, writeFileSync } from 'node:fs';
import { defineConfig } from 'vite';
import { catalogPlugin } from './build/catalog-plugin.ts';

const here = (path: string): string => new URL(path, import.meta.url).pathname;
const MODULE = /<script type="module" src="\.\/main\.ts"><\/script>/;

/** The page that verifies a logbook: `dist/web/verify.html`, one file with its script inside, so that it opens from a disk as well. */
export default defineConfig({
  publicDir: false,
  logLevel: 'warn',
  plugins: [
    catalogPlugin(),
    {
      name: 'one-page',
      apply: 'build',
      generateBundle(_options, bundle) {
        const [script] = Object.values(bundle).flatMap((made) => (made.type === 'chunk' ? [made.code] : []));
        const html = readFileSync(here('./src/web/verify/index.html'), 'utf8');
        if (script === undefined || !MODULE.test(html)) throw new Error('the page has no place for its script');
        // A closing tag within a text of the script would end it.
        const inside = script.replaceAll('</script', '<\\/script');
        for (const name of Object.keys(bundle)) delete bundle[name];
        writeFileSync(
          here('./dist/web/verify.html'),
          html.replace(MODULE, () => `<script>${inside}</script>`),
        );
      },
    },
  ],
  build: {
    target: 'es2023',
    outDir: here('./dist/web'),
    emptyOutDir: false,
    rolldownOptions: { treeshake: { moduleSideEffects: [{ test: /\/src\/(?!web\/)/, sideEffects: false }] } },
    lib: { entry: here('./src/web/verify/main.ts'), formats: ['iife'], name: 'verify', fileName: 'verify' },
  },
});
