import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { type CatalogDocument, type CatalogFile, openDocument, type Path } from './document.ts';
import { catalogOf, type Draft, emptyDraft, type Item } from './draft.ts';
import { problemsOfDraft } from './references.ts';
import { type SectionName, sections } from './schema.ts';
import { problemsOfIssue } from './shape.ts';
import type { Catalog } from './types.ts';

/**
 * Reads the trade's knowledge from YAML files and checks it whole.
 *
 * Every file is a mapping of lists (`sources`, `parts`, `setups`, `upkeeps`, `mishaps`, `kit`, `rigFacts`); which file holds
 * what does not matter. Nothing is taken in part: either all of it holds together, or every problem found is told, each with
 * `file:line` and what was expected.
 */
export function loadCatalog(files: readonly CatalogFile[]): Result<Catalog> {
  const draft = emptyDraft();
  const problems = files.flatMap((file) => readFile(file, draft));
  problems.push(...problemsOfDraft(draft));
  const [first, ...more] = problems;
  return first === undefined ? ok(catalogOf(draft)) : fail(first, ...more);
}

function readFile(file: CatalogFile, draft: Draft): Problem[] {
  const document = openDocument(file);
  if (document.problems.length > 0) return [...document.problems];
  if (document.value === null) return [];
  const expected = `a mapping with ${Object.keys(sections).join(', ')}`;
  if (typeof document.value !== 'object' || Array.isArray(document.value)) {
    return [{ code: 'catalog.value-wrong', what: 'The file is not a mapping', where: document.where([]), expected }];
  }
  return Object.entries(document.value).flatMap(([section, list]) => {
    if (!(section in sections)) {
      return [
        {
          code: 'catalog.key-unknown',
          what: `\`${section}\` is not a list of the catalog`,
          where: document.where([], section),
          expected,
        },
      ];
    }
    if (!Array.isArray(list)) {
      const where = document.where([section]);
      return [
        { code: 'catalog.value-wrong', what: `\`${section}\` is not a list`, where, expected: 'a list of items' },
      ];
    }
    return list.flatMap((_, index) => readItem(document, section as SectionName, index, list[index], draft));
  });
}

function readItem(
  document: CatalogDocument,
  section: SectionName,
  index: number,
  raw: unknown,
  draft: Draft,
): Problem[] {
  const prefix: Path = [section, index];
  const read = sections[section].safeParse(raw);
  if (!read.success) {
    draft.broken.add(`${section}/${(raw as { id?: unknown } | null)?.id}`);
    return read.error.issues.flatMap((issue) => problemsOfIssue(issue, document, prefix));
  }
  const value = section === 'mishaps' ? withAlternatives(read.data as RawMishap) : read.data;
  const item: Item<never> = { value: value as never, where: (...path) => document.where([...prefix, ...path]) };
  const into = draft[section] as Map<string, Item<never>>;
  const id = read.data.id;
  const twin = into.get(id);
  if (twin !== undefined) {
    return [
      {
        code: 'catalog.id-duplicate',
        what: `${section} \`${id}\` stands twice`,
        where: item.where('id'),
        expected: `an id used once; the other is at ${twin.where('id')}`,
      },
    ];
  }
  into.set(id, item);
  return [];
}

interface RawMishap {
  readonly id: string;
  readonly tools: readonly string[];
  readonly spares: readonly string[];
}

/** `a | b` becomes the need `a` with the alternative `b`. */
function withAlternatives(mishap: RawMishap) {
  const alternatives: Record<string, readonly string[]> = {};
  const first = (need: string) => {
    const [usual, ...others] = need.split(' | ') as [string, ...string[]];
    if (others.length > 0) alternatives[usual] = others;
    return usual;
  };
  return { ...mishap, tools: mishap.tools.map(first), spares: mishap.spares.map(first), alternatives };
}
