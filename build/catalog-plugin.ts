import type { Plugin } from 'vite';
import { loadCatalogFolder } from '../src/store/catalog-folder.ts';

const id = 'virtual:catalog-files';

/**
 * Makes the catalog's YAML files a module: `import files from 'virtual:catalog-files'` gives `{ name, text }[]`, so that the
 * command line, the server and the browser carry the same data without reading a disk.
 */
export function catalogPlugin(): Plugin {
  const folder = new URL('../catalog/', import.meta.url);
  return {
    name: 'catalog-files',
    resolveId: (source) => (source === id ? `\0${id}` : undefined),
    load(source) {
      if (source !== `\0${id}`) return;
      const files = loadCatalogFolder(folder);
      for (const file of files) this.addWatchFile(new URL(file.name, folder).pathname);
      return `export default ${JSON.stringify(files)};`;
    },
  };
}
