import { readdirSync, readFileSync } from 'node:fs';

/** A file of the catalog, as text: `upkeep/running-gear.yaml`. */
export interface CatalogFile {
  readonly name: string;
  readonly text: string;
}

/** Reads every YAML and JSON file below `folder` (a `file:` URL ending in a slash), in name order. */
export function loadCatalogFolder(folder: URL): CatalogFile[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(yaml|json)$/.test(name))
    .sort()
    .map((name) => ({ name, text: readFileSync(new URL(name, folder), 'utf8') }));
}
