import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import preact from '@preact/preset-vite';
import { defineConfig, type Plugin } from 'vite';
import { catalogPlugin } from './build/catalog-plugin.ts';

const here = (path: string): string => new URL(path, import.meta.url).pathname;

/** The service worker, told which files make up this build: every one of them works without a network after the first visit. */
function offline(): Plugin {
  return {
    name: 'offline',
    apply: 'build',
    generateBundle: {
      order: 'post',
      handler(_options, bundle) {
        const files = Object.keys(bundle).filter((name) => !name.endsWith('.map') && !name.endsWith('.woff'));
        const still = readdirSync(here('./src/web/public'));
        files.push(...still);
        const hash = createHash('sha256');
        for (const name of [...files].sort()) {
          const made = bundle[name];
          hash.update(name);
          if (made !== undefined) hash.update(made.type === 'chunk' ? made.code : made.source);
          else hash.update(readFileSync(here(`./src/web/public/${name}`)));
        }
        const fill = (text: string, name: string, value: unknown): string => {
          if (!text.includes(`'${name}'`)) throw new Error(`offline.js has no place for ${name}`);
          return text.replace(`'${name}'`, JSON.stringify(value));
        };
        const template = readFileSync(here('./src/web/shell/offline.js'), 'utf8');
        const source = fill(fill(template, 'FILES', files), 'VERSION', hash.digest('hex').slice(0, 16));
        this.emitFile({ type: 'asset', fileName: 'offline.js', source });
      },
    },
  };
}

/** The typeface is fetched along with the page: letters that come late would move what is read already. */
function typefaceEarly(): Plugin {
  return {
    name: 'typeface-early',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler: (_html, { bundle = {} }) =>
        Object.keys(bundle)
          .filter((name) => name.endsWith('.woff2'))
          .map((name) => ({
            tag: 'link',
            attrs: { rel: 'preload', as: 'font', type: 'font/woff2', crossorigin: true, href: `/${name}` },
            injectTo: 'head',
          })),
    },
  };
}

/** Text is packed once, here, not at each request: a telephone on the yard's far end has a slow line. */
function packed(): Plugin {
  let folder = '';
  return {
    name: 'packed',
    apply: 'build',
    configResolved({ root, build }) {
      folder = resolve(root, build.outDir);
    },
    closeBundle() {
      for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
        if (!/\.(js|css|html|json|svg|webmanifest)$/.test(name)) continue;
        const file = join(folder, name);
        const content = readFileSync(file);
        writeFileSync(`${file}.br`, brotliCompressSync(content));
        writeFileSync(`${file}.gz`, gzipSync(content, { level: 9 }));
      }
    },
  };
}

/** Nothing happens by loading a file of these rooms: what is not used of them is left out, with all it would have brought along. */
const rolldownOptions = {
  treeshake: {
    moduleSideEffects: [{ test: /\/src\/(?!web\/)/, sideEffects: false }],
  },
};

/** The browser app: `dist/web`, plain files that any server can hand out. */
export default defineConfig({
  root: here('./src/web'),
  publicDir: here('./src/web/public'),
  logLevel: 'warn',
  plugins: [
    preact({ devToolsEnabled: false, prefreshEnabled: false }),
    catalogPlugin(),
    typefaceEarly(),
    offline(),
    packed(),
  ],
  worker: { format: 'es', plugins: () => [catalogPlugin()], rolldownOptions },
  server: { proxy: { '/api': process.env.RIGWORTHY_API ?? 'http://127.0.0.1:4780' } },
  build: {
    target: 'es2023',
    rolldownOptions,
    outDir: here('./dist/web'),
    emptyOutDir: true,
    sourcemap: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
