import promised from 'virtual:catalog-apart';
import { type Catalog, catalogOfLists } from '../../catalog/index.ts';

/** The catalog as the build checked it, keyed again. */
export async function shippedCatalog(): Promise<Catalog> {
  return catalogOfLists(await promised);
}
