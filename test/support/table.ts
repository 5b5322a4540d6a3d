/** Reads the tables under test/data/tables: comma-separated, double quotes around fields that hold commas, first line names. */

import { readFileSync } from 'node:fs';

export type Row = Readonly<Record<string, string>>;

function cells(line: string): readonly string[] {
  const found: string[] = [];
  for (const match of line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g))
    found.push((match[1]?.replaceAll('""', '"') ?? match[2] ?? '').trim());
  return found;
}

export function table(name: string): readonly Row[] {
  const text = readFileSync(new URL(`../data/tables/${name}.csv`, import.meta.url), 'utf8');
  const [head = '', ...lines] = text.split(/\r?\n/).filter((line) => line !== '');
  const names = cells(head);
  return lines.map((line) => Object.fromEntries(cells(line).map((cell, i) => [names[i] ?? String(i), cell])));
}
