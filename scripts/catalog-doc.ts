/** Writes the readable reference of the catalog, docs/catalog/*.md. Run it after changing `catalog/`: `npx tsx scripts/catalog-doc.ts`. */

import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { loadCatalog, referencePages } from '../src/catalog/index.ts';
import { unwrap } from '../src/problem/index.ts';
import { loadCatalogFolder } from '../src/store/catalog-folder.ts';

const catalog = unwrap(loadCatalog(loadCatalogFolder(new URL('../catalog/', import.meta.url))));
const folder = new URL('../docs/catalog/', import.meta.url);
mkdirSync(folder, { recursive: true });
const pages = referencePages(catalog);
const kept = new Set(pages.map(({ name }) => name));
for (const name of readdirSync(folder)) if (!kept.has(name)) rmSync(new URL(name, folder));
for (const { name, text } of pages) writeFileSync(new URL(name, folder), text);
console.log(`${pages.length} pages of the catalog's reference written.`);
