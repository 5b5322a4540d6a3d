import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';

export interface Bytes {
  /** Every script that the page and its worker must have before the judgement can be shown. */
  readonly script: number;
  readonly catalog: number;
  readonly style: number;
  readonly typeface: number;
  /** Everything that is put by for a life without a network. */
  readonly all: number;
}

/** What a first visit loads of the built app in `folder`, as gzip would send it: the scripts of the page and of its worker, followed by their static imports. */
export function bytes(folder: string): Bytes {
  const read = (name: string): string => readFileSync(join(folder, name), 'utf8');
  const size = (names: readonly string[]): number =>
    names.reduce((sum, name) => sum + gzipSync(readFileSync(join(folder, name))).length, 0);
  const assets = readdirSync(join(folder, 'assets')).map((name) => `assets/${name}`);
  const page = read('index.html');
  const named = (pattern: RegExp): string[] => assets.filter((name) => pattern.test(name));
  const scripts = new Set<string>();
  const follow = (name: string): void => {
    if (scripts.has(name)) return;
    scripts.add(name);
    // Minified: `import{a as b}from"./x.js"`, `import"./x.js"`, `export*from"./x.js"`; `import("./x.js")` comes later, if ever.
    for (const [, file] of read(name).matchAll(/(?:from|import)\s*"\.\/([^"]+\.js)"/g)) follow(`assets/${file}`);
  };
  for (const [, src] of page.matchAll(/<script[^>]* src="\/([^"]+)"/g)) follow(src!);
  for (const worker of named(/\/worker-.*\.js$/)) follow(worker);
  const inPage = (names: readonly string[]): string[] => names.filter((name) => page.includes(`/${name}`));
  const built = readdirSync(folder, { recursive: true }).map(String);
  return {
    script: size([...scripts]),
    catalog: size(named(/\/catalog-.*\.json$/)),
    style: size(inPage(named(/\.css$/))),
    typeface: size(named(/\.woff2$/)),
    all: size(built.filter((name) => /\.(js|css|json|html|svg|png|jsonl|woff2|webmanifest)$/.test(name))),
  };
}
