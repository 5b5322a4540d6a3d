import { isMap, isScalar, LineCounter, parseDocument } from 'yaml';
import type { Problem } from '../problem/index.ts';

/** A file of the catalog, as text: `upkeep/running-gear.yaml`. */
export interface CatalogFile {
  readonly name: string;
  readonly text: string;
}

/** Keys and indexes from the top of a file down to a value. */
export type Path = readonly (string | number)[];

/** A YAML file read to plain data that still knows on which line each value stands. */
export interface CatalogDocument {
  readonly value: unknown;
  /** `file:line` of a value, or of the nearest thing around it that exists. With `key`, of that key of the mapping. */
  readonly where: (path: Path, key?: string) => string;
  /** What is wrong with the YAML itself. */
  readonly problems: readonly Problem[];
}

/** Reads one file. Duplicate keys and torn YAML are problems; the value is then what could be read. */
export function openDocument(file: CatalogFile): CatalogDocument {
  const lines = new LineCounter();
  const document = parseDocument(file.text, { lineCounter: lines, prettyErrors: false });
  const line = (offset: number) => `${file.name}:${lines.linePos(offset).line}`;

  const where = (path: Path, key?: string): string => {
    for (let depth = path.length; depth >= 0; depth--) {
      const node = document.getIn(path.slice(0, depth), true);
      if (isMap(node) && depth === path.length && key !== undefined) {
        const pair = node.items.find((item) => isScalar(item.key) && item.key.value === key);
        if (pair !== undefined && isScalar(pair.key) && pair.key.range) return line(pair.key.range[0]);
      }
      const range = (node as { range?: readonly number[] | null } | undefined)?.range;
      if (range?.[0] !== undefined) return line(range[0]);
    }
    return `${file.name}:1`;
  };

  const problems = [...document.errors, ...document.warnings].map((error) => ({
    code: 'catalog.yaml',
    what: `This is not well-formed YAML: ${error.message.replace(/\.$/, '')}`,
    where: line(error.pos[0]),
    expected: 'YAML 1.2, each key once',
  }));
  return { value: document.errors.length === 0 ? document.toJS() : undefined, where, problems };
}
