import { readdirSync, readFileSync } from 'node:fs';
import files from 'virtual:catalog-files';
import { describe, expect, it } from 'vitest';
import { unwrap } from '../problem/index.ts';
import { loadCatalog, referencePages } from './index.ts';

const folder = new URL('../../docs/catalog/', import.meta.url);
const catalog = unwrap(loadCatalog(files));
const pages = referencePages(catalog);
const all = pages.map(({ text }) => text).join('\n');

describe('the readable reference', () => {
  it('stands in docs/catalog as the catalog has it (npx tsx scripts/catalog-doc.ts)', () => {
    expect(readdirSync(folder).sort()).toEqual(pages.map(({ name }) => name).sort());
    for (const { name, text } of pages) {
      expect(readFileSync(new URL(name, folder), 'utf8') === text, `${name} is out of step with catalog/`).toBe(true);
    }
  });

  it('shows every upkeep, mishap, set-up, source, kit item and rig fact', () => {
    for (const map of [
      catalog.upkeeps,
      catalog.mishaps,
      catalog.setups,
      catalog.sources,
      catalog.kit,
      catalog.partKinds,
    ]) {
      for (const id of map.keys()) expect(all).toContain(`\`${id}\``);
    }
    for (const id of catalog.rigFacts!.keys()) expect(all).toContain(`\`fact/${id}\``);
  });

  it('links to nothing that is not there', () => {
    const names = new Set(pages.map(({ name }) => name));
    for (const [, name, anchor] of all.matchAll(/\]\(([a-z0-9-]+\.md|README\.md)(?:#([^)]+))?\)/g)) {
      expect(names).toContain(name);
      if (anchor === undefined) continue;
      expect(pages.find((one) => one.name === name)!.text).toContain(`id="${anchor}"`);
    }
  });

  it('says that minutes and failure figures are estimates', () => {
    expect(pages[0]!.text).toContain('**estimates**');
  });
});
