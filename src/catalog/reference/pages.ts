import type { Catalog } from '../types.ts';
import { indexPage } from './index-page.ts';
import { listPages } from './list-pages.ts';
import type { Page } from './page.ts';
import { upkeepPages } from './upkeep-pages.ts';

/** The readable reference of a catalog, page by page; `scripts/catalog-doc.ts` writes it to docs/catalog. */
export function referencePages(catalog: Catalog): Page[] {
  const pages = [...upkeepPages(catalog), ...listPages(catalog)];
  return [indexPage(catalog, pages), ...pages];
}
