import type * as z from 'zod/mini';
import type { Problem } from '../problem/index.ts';
import type { CatalogDocument, Path } from './document.ts';

type Issue = z.core.$ZodIssue;

/** The value at a path of plain data. */
function valueAt(data: unknown, path: Path): unknown {
  let value = data;
  for (const step of path) {
    if (value === null || typeof value !== 'object') return undefined;
    value = (value as Record<string | number, unknown>)[step];
  }
  return value;
}

/** `upkeep repack-bearings` where the item got as far as having an id. */
function nameOf(data: unknown, path: Path): string {
  const [section, index] = path;
  const item = valueAt(data, path.slice(0, 2));
  const id = (item as { id?: unknown } | undefined)?.id;
  return typeof id === 'string' ? `${section} \`${id}\`` : `${section}[${index}]`;
}

const list = (values: readonly unknown[]) => values.map((value) => `\`${value}\``).join(', ');

function missing(name: string, field: string, where: string, expected: string): Problem {
  if (field === 'source') {
    return {
      code: 'catalog.source-missing',
      what: `${name}: a value without a source`,
      where,
      expected: 'source: the id of an entry under `sources`',
      next: 'Say where the figure comes from, or leave the figure out.',
    };
  }
  return { code: 'catalog.value-missing', what: `${name}: \`${field}\` is missing`, where, expected };
}

/** One zod issue as Problems that name the line. `prefix` is the path from the top of the file to what was parsed. */
export function problemsOfIssue(issue: Issue, document: CatalogDocument, prefix: Path): Problem[] {
  const path = [...prefix, ...(issue.path as Path)];
  const name = nameOf(document.value, path);
  const field = String(path.at(-1));
  const where = document.where(path);
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({
      code: 'catalog.key-unknown',
      what: `${name}: \`${key}\` is not a field`,
      where: document.where(path, key),
      expected: 'one of the fields of docs/catalog/README.md, spelt the same way',
    }));
  }
  const absent = valueAt(document.value, path) === undefined;
  if (issue.code === 'invalid_value' || (issue.code === 'invalid_union' && 'options' in issue)) {
    const options = issue.code === 'invalid_value' ? issue.values : (issue.options as unknown as unknown[]);
    if (absent && field === 'kind' && path[0] === 'sources') {
      return [
        {
          code: 'catalog.source-kind-missing',
          what: `${name}: a source without a kind`,
          where,
          expected: list(options),
        },
      ];
    }
    if (absent) return [missing(name, field, where, list(options))];
    return [
      {
        code: 'catalog.value-wrong',
        what: `${name}: \`${field}\` is \`${valueAt(document.value, path)}\``,
        where,
        expected: list(options),
      },
    ];
  }
  if (absent)
    return [
      missing(
        name,
        field,
        where,
        issue.message.replace(/^(Invalid input: )?(expected )?/, '').replace(/, received.*$/, ''),
      ),
    ];
  const inner = issue.code === 'custom' ? (issue.params?.problem as Problem | undefined) : undefined;
  if (inner !== undefined) {
    return [
      {
        code: 'catalog.unit-wrong',
        what: `${name}: \`${field}\`: ${inner.what.replace(/\.$/, '')}`,
        where,
        ...(inner.expected === undefined ? {} : { expected: inner.expected }),
        ...(inner.next === undefined ? {} : { next: inner.next }),
      },
    ];
  }
  const expected = issue.message.replace(/^Invalid (input|string): /, '').replace(/^expected /, '');
  return [{ code: 'catalog.value-wrong', what: `${name}: \`${field}\` is not as it should be`, where, expected }];
}
