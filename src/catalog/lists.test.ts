import files from 'virtual:catalog-files';
import { expect, it } from 'vitest';
import { unwrap } from '../problem/index.ts';
import { catalogOfLists, listsOf } from './lists.ts';
import { loadCatalog } from './load.ts';

it('is the same catalog after a way through JSON', () => {
  const catalog = unwrap(loadCatalog(files));
  expect(catalogOfLists(JSON.parse(JSON.stringify(listsOf(catalog))))).toEqual(catalog);
});
