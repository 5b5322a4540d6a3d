import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { type CatalogDocument, type CatalogFile, openDocument, type Path } from './document.ts';
import { catalogOf, type Draft, emptyDraft, type Item } from './draft.ts';
import { withStandingCautions } from './hazards.ts';
import { withLimits } from './limits.ts';
import { problemsOfDraft, unknown } from './references.ts';
import { type SectionName, sections } from './schema.ts';
import { problemsOfIssue } from './shape.ts';
import type { Catalog, Figure, Limit } from './types.ts';

/**
 * Reads the trade's knowledge from YAML files (JSON is YAML, too) and checks it whole.
 *
 * Every file is a mapping of lists (`sources`, `parts`, `setups`, `upkeeps`, `mishaps`, `kit`, `rigFacts`, `ranges`) and of `limits` by id;
 * which file holds what does not matter. A text may name a shared limit as `{limit-id}`. Nothing is taken in part: either all of
 * it holds together, or every problem found is told, each with `file:line` and what was expected.
 */
export function loadCatalog(files: readonly CatalogFile[]): Result<Catalog> {
  const draft = emptyDraft();
  const documents = files.map(openDocument);
  const problems = documents.flatMap((document) => readDocument(document, draft, (section) => section === 'limits'));
  problems.push(...documents.flatMap((document) => readDocument(document, draft, (section) => section !== 'limits')));
  problems.push(...documents.flatMap((document) => problemsOfDocument(document)));
  problems.push(...problemsOfDraft(draft));
  const [first, ...more] = problems;
  return first === undefined ? ok(withStandingCautions(catalogOf(draft))) : fail(first, ...more);
}

const EXPECTED = `a mapping with ${Object.keys(sections).join(', ')}`;

const isMapping = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** What is wrong with a file before any of its items is read. */
function problemsOfDocument(document: CatalogDocument): Problem[] {
  if (document.problems.length > 0) return [...document.problems];
  if (document.value === null) return [];
  if (!isMapping(document.value)) {
    const where = document.where([]);
    return [{ code: 'catalog.value-wrong', what: 'The file is not a mapping', where, expected: EXPECTED }];
  }
  return Object.entries(document.value).flatMap(([section, list]) => {
    if (!Object.hasOwn(sections, section)) {
      const what = `\`${section}\` is not a list of the catalog`;
      return [{ code: 'catalog.key-unknown', what, where: document.where([], section), expected: EXPECTED }];
    }
    if (section === 'limits' ? isMapping(list) : Array.isArray(list)) return [];
    const expected = section === 'limits' ? 'limits by their id' : 'a list of items';
    const where = document.where([section]);
    return [{ code: 'catalog.value-wrong', what: `\`${section}\` is not ${expected}`, where, expected }];
  });
}

function readDocument(document: CatalogDocument, draft: Draft, wanted: (section: SectionName) => boolean): Problem[] {
  if (document.problems.length > 0 || !isMapping(document.value)) return [];
  return Object.entries(document.value).flatMap(([name, list]) => {
    const section = name as SectionName;
    if (!(name in sections) || !wanted(section)) return [];
    if (section === 'limits') {
      if (!isMapping(list)) return [];
      return Object.entries(list).flatMap(([id, raw]) =>
        readItem(document, [section, id], isMapping(raw) ? { id, text: raw.is, ...raw } : raw, draft),
      );
    }
    return Array.isArray(list) ? list.flatMap((raw, index) => readItem(document, [section, index], raw, draft)) : [];
  });
}

function readItem(document: CatalogDocument, prefix: Path, raw: unknown, draft: Draft): Problem[] {
  const section = prefix[0] as SectionName;
  const limits = new Map([...draft.limits].map(([id, item]) => [id, item.value]));
  const { value: filled, named } = withLimits(raw, limits);
  const read = sections[section].safeParse(filled);
  if (!read.success) {
    draft.broken.add(`${section}/${(raw as { id?: unknown } | null)?.id}`);
    return read.error.issues.flatMap((issue) => problemsOfIssue(issue, document, prefix));
  }
  const id = read.data.id;
  const owner = `${section} \`${id}\``;
  const lost = unknown(
    draft,
    'limits',
    owner,
    [...named].map(([limit, path]) => [limit, document.where([...prefix, ...path])] as const),
  );
  if (lost.length > 0) {
    draft.broken.add(`${section}/${id}`);
    return lost;
  }
  const whole = section === 'mishaps' ? withAlternatives(read.data as RawMishap) : read.data;
  const value = withFigures(
    section,
    whole,
    [...named.keys()].map((limit) => limits.get(limit)!),
  );
  const item: Item<never> = { value: value as never, where: (...path) => document.where([...prefix, ...path]) };
  const into = draft[section] as Map<string, Item<never>>;
  const twin = into.get(id);
  if (twin !== undefined) {
    return [
      {
        code: 'catalog.id-duplicate',
        what: `${owner} stands twice`,
        where: item.where('id'),
        expected: `an id used once; the other is at ${twin.where('id')}`,
      },
    ];
  }
  into.set(id, item);
  return [];
}

/** The shared limits named in the texts of an item stand among its figures, each with its source. */
function withFigures(section: SectionName, item: object, limits: readonly Limit[]): object {
  if (limits.length === 0 || !['upkeeps', 'setups', 'mishaps'].includes(section)) return item;
  const own = (item as { readonly figures?: readonly Figure[] }).figures ?? [];
  const shared = limits.map(({ what, is, source }): Figure => ({ what, is, source }));
  return { ...item, figures: [...own, ...shared] };
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
