/** What a catalog item may refer to: every id known, every figure in its dimension and its range, every danger with its cautions. */

import type { Problem } from '../problem/index.ts';
import { problemsOfClock, sourcesOfClock } from './clocks.ts';
import { problemsOfCycles } from './cycles.ts';
import type { Path } from './document.ts';
import type { Draft, Item } from './draft.ts';
import { problemsOfRange } from './ranges.ts';
import { problemsOfSafety } from './safety.ts';
import type { Figure, Limit, Mishap, PartKind, RigFact, SetUp, Upkeep } from './types.ts';
import { unitProblem } from './unit.ts';

const NOUNS = {
  sources: 'source',
  parts: 'kind of part',
  setups: 'set-up',
  upkeeps: 'upkeep',
  mishaps: 'mishap',
  kit: 'kit item',
  rigFacts: 'rig fact',
  ranges: 'range',
  limits: 'limit',
  hazards: 'hazard',
} as const;

/** The three known ids most like a wrong one. */
function nearest(wrong: string, known: Iterable<string>): string[] {
  const pairs = (id: string) => new Set([...id].map((_, i) => id.slice(i, i + 2)));
  const wanted = pairs(wrong);
  const likeness = (id: string) => {
    const own = pairs(id);
    return [...own].filter((pair) => wanted.has(pair)).length / Math.max(own.size, wanted.size);
  };
  return [...known]
    .map((id) => ({ id, like: likeness(id) }))
    .filter(({ like }) => like > 0.4)
    .sort((a, b) => b.like - a.like)
    .slice(0, 3)
    .map(({ id }) => id);
}

/** A Problem for each id that the draft does not know. */
export function unknown(
  draft: Draft,
  section: keyof typeof NOUNS,
  owner: string,
  references: readonly (readonly [id: string, where: string])[],
): Problem[] {
  const known = draft[section] as ReadonlyMap<string, unknown>;
  return references
    .filter(([id]) => !known.has(id) && !draft.broken.has(`${section}/${id}`))
    .map(([id, where]) => {
      const near = nearest(id, known.keys());
      return {
        code: 'catalog.reference-unknown',
        what: `${owner}: \`${id}\` is not a known ${NOUNS[section]}`,
        where,
        expected: `the id of an entry under \`${section}\`${near.length === 0 ? '' : `, such as ${near.map((one) => `\`${one}\``).join(', ')}`}`,
      };
    });
}

const each = <T>(item: Item<T>, list: readonly string[] | undefined, ...path: Path) =>
  (list ?? []).map((id, index) => [id, item.where(...path, index)] as const);

function problemsOfFigures(
  draft: Draft,
  owner: string,
  item: Item<{ readonly figures?: readonly Figure[] }>,
): Problem[] {
  return (item.value.figures ?? []).flatMap((figure, index) => {
    const where = item.where('figures', index);
    const bare = figure.is === undefined && (figure.from === undefined || figure.to === undefined);
    return [
      ...unknown(draft, 'sources', owner, [[figure.source, item.where('figures', index, 'source')]]),
      ...(bare
        ? [
            {
              code: 'catalog.value-missing',
              what: `${owner}: the figure \`${figure.what}\` has no value`,
              where,
              expected: '`is`, or `from` and `to`',
            },
          ]
        : []),
    ];
  });
}

/** All problems of one upkeep against the rest of the draft. */
export function problemsOfUpkeep(draft: Draft, item: Item<Upkeep>): Problem[] {
  const upkeep = item.value;
  const owner = `upkeep \`${upkeep.id}\``;
  const part = draft.parts.get(upkeep.part)?.value;
  return [
    ...unknown(draft, 'parts', owner, [[upkeep.part, item.where('part')]]),
    ...unknown(draft, 'upkeeps', owner, [
      ...each(item, upkeep.covers, 'covers'),
      ...each(item, upkeep.goesAfter, 'goesAfter'),
    ]),
    ...unknown(draft, 'setups', owner, each(item, upkeep.setups, 'setups')),
    ...unknown(draft, 'kit', owner, each(item, upkeep.tools, 'tools')),
    ...unknown(draft, 'rigFacts', owner, each(item, upkeep.needsFacts, 'needsFacts')),
    ...unknown(draft, 'sources', owner, each(item, upkeep.restsOn, 'restsOn')),
    ...upkeep.clocks.flatMap((clock, index) => [
      ...unknown(
        draft,
        'sources',
        owner,
        sourcesOfClock(clock).map((source) => [source, item.where('clocks', index, 'source')]),
      ),
      ...(clock.kind === 'after'
        ? [
            ...unknown(draft, 'setups', owner, each(item, clock.setups, 'clocks', index, 'setups')),
            ...unknown(draft, 'upkeeps', owner, each(item, clock.upkeeps, 'clocks', index, 'upkeeps')),
          ]
        : []),
      ...problemsOfClock(owner, upkeep, clock, part, (...path) => item.where('clocks', index, ...path)),
    ]),
    ...problemsOfReadings(draft, owner, item),
    ...unknown(
      draft,
      'sources',
      owner,
      upkeep.goWithLimits ? [[upkeep.goWithLimits.source, item.where('goWithLimits', 'source')]] : [],
    ),
    ...problemsOfFigures(draft, owner, item),
    ...problemsOfCovers(draft, owner, item),
    ...problemsOfSetUps(draft, owner, item),
  ];
}

function problemsOfReadings(draft: Draft, owner: string, item: Item<Upkeep>): Problem[] {
  return item.value.readings.flatMap((reading, index) => {
    const where = item.where('readings', index);
    const bare = reading.limit !== undefined && reading.source === undefined;
    return [
      ...unknown(
        draft,
        'sources',
        owner,
        reading.source ? [[reading.source, item.where('readings', index, 'source')]] : [],
      ),
      ...unitProblem(owner, `readings.${reading.what}`, reading.unit, item.where('readings', index, 'unit')),
      ...(bare
        ? [
            {
              code: 'catalog.source-missing',
              what: `${owner}: the limit of \`${reading.what}\` has no source`,
              where,
              expected: 'source: the id of an entry under `sources`',
            },
          ]
        : []),
    ];
  });
}

function problemsOfCovers(draft: Draft, owner: string, item: Item<Upkeep>): Problem[] {
  return item.value.covers.flatMap((id, index) => {
    const other = draft.upkeeps.get(id)?.value;
    if (other === undefined || other.part === item.value.part) return [];
    return [
      {
        code: 'catalog.covers-other-part',
        what: `${owner} covers \`${id}\`, which is a duty of another part (\`${other.part}\`)`,
        where: item.where('covers', index),
        expected: `an upkeep of \`${item.value.part}\``,
      },
    ];
  });
}

function problemsOfSetUps(draft: Draft, owner: string, item: Item<Upkeep>): Problem[] {
  return item.value.setups.flatMap((id, index) =>
    (draft.setups.get(id)?.value.presumes ?? [])
      .filter((presumed) => !item.value.setups.includes(presumed))
      .map((presumed) => ({
        code: 'catalog.set-up-missing',
        what: `${owner}: set-up \`${id}\` stands on \`${presumed}\`, which is not listed`,
        where: item.where('setups', index),
        expected: `\`${presumed}\` among the set-ups, so that its cautions are shown`,
      })),
  );
}

function problemsOfMishap(draft: Draft, item: Item<Mishap>): Problem[] {
  const mishap = item.value;
  const owner = `mishap \`${mishap.id}\``;
  const needs = (['tools', 'spares'] as const).flatMap((field) =>
    mishap[field].flatMap((id, index) =>
      [id, ...(mishap.alternatives?.[id] ?? [])].map(
        (one) => [one, item.where(field, index), field === 'tools' ? 'tool' : 'spare'] as const,
      ),
    ),
  );
  const drill = mishap.drill === undefined ? undefined : draft.upkeeps.get(mishap.drill)?.value;
  return [
    ...unknown(draft, 'parts', owner, each(item, mishap.parts, 'parts')),
    ...unknown(
      draft,
      'kit',
      owner,
      needs.map(([id, where]) => [id, where]),
    ),
    ...unknown(draft, 'upkeeps', owner, each(item, mishap.preventedBy, 'preventedBy')),
    ...unknown(draft, 'upkeeps', owner, mishap.drill ? [[mishap.drill, item.where('drill')]] : []),
    ...unknown(draft, 'sources', owner, [[mishap.source, item.where('source')]]),
    ...unknown(draft, 'rigFacts', owner, each(item, mishap.needsFacts, 'needsFacts')),
    ...problemsOfFigures(draft, owner, item),
    ...(drill !== undefined && drill.drill !== true
      ? [
          {
            code: 'catalog.drill-wrong',
            what: `${owner}: \`${drill.id}\` is not a drill`,
            where: item.where('drill'),
            expected: 'an upkeep with `drill: true`',
          },
        ]
      : []),
    ...needs
      .filter(([id, , kind]) => draft.kit.get(id) !== undefined && draft.kit.get(id)!.value.kind !== kind)
      .map(([id, where, kind]) => ({
        code: 'catalog.kit-kind-wrong',
        what: `${owner}: \`${id}\` is not a ${kind}`,
        where,
        expected: `a kit item of kind \`${kind}\``,
      })),
  ];
}

function problemsOfPart(item: Item<PartKind>): Problem[] {
  const owner = `kind of part \`${item.value.id}\``;
  return Object.entries(item.value.factUnits ?? {}).flatMap(([fact, unit]) => {
    const where = item.where('factUnits', fact);
    if (item.value.facts[fact] !== undefined) return unitProblem(owner, `factUnits.${fact}`, unit, where);
    return [
      {
        code: 'catalog.reference-unknown',
        what: `${owner}: \`${fact}\` has a unit but is no fact`,
        where,
        expected: 'a key of `facts`',
      },
    ];
  });
}

function problemsOfSetUp(draft: Draft, item: Item<SetUp>): Problem[] {
  const owner = `set-up \`${item.value.id}\``;
  return [
    ...unknown(draft, 'kit', owner, each(item, item.value.tools, 'tools')),
    ...unknown(draft, 'setups', owner, each(item, item.value.presumes, 'presumes')),
    ...unknown(draft, 'rigFacts', owner, each(item, item.value.needsFacts, 'needsFacts')),
    ...problemsOfFigures(draft, owner, item),
  ];
}

function problemsOfRigFact(draft: Draft, item: Item<RigFact>): Problem[] {
  const owner = `rig fact \`${item.value.id}\``;
  return [
    ...unknown(
      draft,
      'sources',
      owner,
      item.value.disagree.map(({ source }, index) => [source, item.where('disagree', index, 'source')]),
    ),
    ...(item.value.unit === undefined ? [] : unitProblem(owner, 'unit', item.value.unit, item.where('unit'))),
  ];
}

function problemsOfLimit(draft: Draft, item: Item<Limit>): Problem[] {
  const { id, source, also } = item.value;
  return unknown(draft, 'sources', `limit \`${id}\``, [
    [source, item.where('source')],
    ...(also ?? []).map((one, index) => [one.source, item.where('also', index, 'source')] as const),
  ]);
}

/** Every problem between the items of a draft. */
export function problemsOfDraft(draft: Draft): Problem[] {
  const all = <T>(map: ReadonlyMap<string, Item<T>>, problemsOf: (item: Item<T>) => Problem[]) =>
    [...map.values()].flatMap(problemsOf);
  return [
    ...all(draft.parts, problemsOfPart),
    ...all(draft.setups, (item) => problemsOfSetUp(draft, item)),
    ...all(draft.limits, (item) => problemsOfLimit(draft, item)),
    ...all(draft.rigFacts, (item) => problemsOfRigFact(draft, item)),
    ...all(draft.ranges, (item) => problemsOfRange(draft, item)),
    ...all(draft.upkeeps, (item) => problemsOfUpkeep(draft, item)),
    ...all(draft.mishaps, (item) => problemsOfMishap(draft, item)),
    ...problemsOfSafety(draft),
    ...problemsOfCycles(draft),
  ];
}
