import type { Plugin } from 'vite';
import { listsOf, loadCatalog } from '../src/catalog/index.ts';
import { unwrap } from '../src/problem/index.ts';
import { loadCatalogFolder } from '../src/store/catalog-folder.ts';

const TEXT = 'virtual:catalog-files';
const CHECKED = 'virtual:catalog';
const APART = 'virtual:catalog-apart';

/**
 * The catalog as modules, so that the command line, the server and the browser carry the same data without reading a disk.
 *
 * - `virtual:catalog-files`: the YAML files as `{ name, text }[]`.
 * - `virtual:catalog`: the catalog, read and checked now, as lists. What imports it needs neither a YAML reader nor the schema.
 * - `virtual:catalog-apart`: the same as a promise. In a build the lists are a file of data beside the code, fetched when the module runs.
 */
export function catalogPlugin(): Plugin {
  const folder = new URL('../catalog/', import.meta.url);
  let building = false;
  return {
    name: 'catalog',
    configResolved: ({ command }) => {
      building = command === 'build';
    },
    resolveId: (source) => ([TEXT, CHECKED, APART].includes(source) ? `\0${source}` : undefined),
    load(source) {
      const id = source.slice(1);
      if (source[0] !== '\0' || ![TEXT, CHECKED, APART].includes(id)) return;
      const files = loadCatalogFolder(folder);
      for (const file of files) this.addWatchFile(new URL(file.name, folder).pathname);
      if (id === TEXT) return `export default ${JSON.stringify(files)};`;
      const json = JSON.stringify(listsOf(unwrap(loadCatalog(files))));
      const parsed = `JSON.parse(${JSON.stringify(json)})`;
      if (id === CHECKED) return `export default ${parsed};`;
      if (!building) return `export default Promise.resolve(${parsed});`;
      const file = this.emitFile({ type: 'asset', name: 'catalog.json', source: json });
      return `export default fetch(import.meta.ROLLUP_FILE_URL_${file}).then((answer) => answer.json());`;
    },
  };
}
