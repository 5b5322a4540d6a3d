/** Made by `catalog-plugin.ts`: the catalog's YAML files as text. */
declare module 'virtual:catalog-files' {
  const files: readonly { readonly name: string; readonly text: string }[];
  export default files;
}

/** The checked catalog. */
declare module 'virtual:catalog' {
  import type { CatalogLists } from '../src/catalog/index.ts';

  const lists: CatalogLists;
  export default lists;
}

/** The checked catalog as a file of its own, being fetched. */
declare module 'virtual:catalog-apart' {
  import type { CatalogLists } from '../src/catalog/index.ts';

  const lists: Promise<CatalogLists>;
  export default lists;
}
