import { type Catalog, loadCatalog } from '../../src/catalog/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { loadCatalogFolder } from '../../src/store/index.ts';

let catalog: Catalog | undefined;

/** The catalog as it ships, read once. */
export function shippedCatalog(): Catalog {
  catalog ??= unwrap(loadCatalog(loadCatalogFolder(new URL('../../catalog/', import.meta.url))));
  return catalog;
}
