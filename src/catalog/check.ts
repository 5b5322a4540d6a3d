/** What is legal and still looks wrong: the second pair of eyes for whoever edits the catalog. */

import type { Problem } from '../problem/index.ts';
import { outsideRange, sourcesOfClock } from './clocks.ts';
import { rangesMissing } from './ranges.ts';
import { untracedFigures } from './traces.ts';
import type { Catalog, Clock, Hazard, Upkeep } from './types.ts';
import { dimensionOfUnit } from './unit.ts';

/**
 * Things a loaded catalog may contain and probably should not: what nothing refers to, an interval outside its sources' range
 * (only an owner's override can bring one), a dangerous mishap without a drill, one without prevention, a figure in the text that no entry sources, a
 * drift away from its limit, a standard or regulation cited from memory. Empty means nothing was found to doubt.
 */
export function catalogCheck(catalog: Catalog): Problem[] {
  return [
    ...unreferred(catalog),
    ...[...catalog.upkeeps.values()].flatMap((upkeep) => doubtsOfUpkeep(upkeep)),
    ...partDoubts(catalog),
    ...mishapDoubts(catalog),
    ...readingDoubts(catalog),
    ...rangesMissing(catalog),
    ...untracedFigures(catalog),
    ...fromMemory(catalog),
  ];
}

const doubt = (code: string, what: string, where: string, expected: string): Problem => ({
  code,
  what,
  where,
  expected,
});

/** Ids that stand in the catalog and in no place that would use them. */
function unreferred(catalog: Catalog): Problem[] {
  const upkeeps = [...catalog.upkeeps.values(), ...partUpkeeps(catalog)];
  const mishaps = [...catalog.mishaps.values()];
  const setups = [...catalog.setups.values()];
  const withFigures = [...upkeeps, ...mishaps, ...setups];
  const used = {
    upkeep: [
      ...mishaps.flatMap((mishap) => [...mishap.preventedBy, mishap.drill ?? '']),
      ...upkeeps.flatMap((upkeep) => upkeep.covers),
    ],
    'set-up': [
      ...upkeeps.flatMap((upkeep) => [
        ...upkeep.setups,
        ...upkeep.clocks.flatMap((c) => (c.kind === 'after' ? c.setups : [])),
      ]),
      ...setups.flatMap((setup) => setup.presumes ?? []),
    ],
    'kit item': [
      ...mishaps.flatMap((mishap) => [
        ...mishap.tools,
        ...mishap.spares,
        ...Object.values(mishap.alternatives ?? {}).flat(),
      ]),
      ...[...upkeeps, ...setups].flatMap((item) => item.tools),
    ],
    'rig fact': withFigures.flatMap((item) => item.needsFacts ?? []),
    source: [
      ...upkeeps.flatMap((upkeep) => [
        ...upkeep.clocks.flatMap((clock) => sourcesOfClock(clock)),
        ...upkeep.readings.map((reading) => reading.source ?? ''),
        upkeep.goWithLimits?.source ?? '',
        upkeep.owner?.source ?? '',
        ...(upkeep.restsOn ?? []),
      ]),
      ...withFigures.flatMap((item) => (item.figures ?? []).map((figure) => figure.source)),
      ...mishaps.map((mishap) => mishap.source),
      ...[...catalog.limits.values()].flatMap((limit) => [
        limit.source,
        ...(limit.also ?? []).map((one) => one.source),
      ]),
      ...[...(catalog.rigFacts?.values() ?? [])].flatMap((fact) => fact.disagree.map((one) => one.source)),
      ...[...(catalog.ranges?.values() ?? [])].map((range) => range.source),
    ],
  };
  const known = {
    upkeep: catalog.upkeeps,
    'set-up': catalog.setups,
    'kit item': catalog.kit,
    'rig fact': catalog.rigFacts ?? new Map(),
    source: catalog.sources,
  };
  const expected = {
    upkeep: 'a mishap that lists it under `preventedBy` or as its drill, or an upkeep that covers it',
    'set-up': 'an upkeep that uses it',
    'kit item': 'a mishap, upkeep or set-up that needs it',
    'rig fact': 'an upkeep, set-up or mishap that needs it',
    source: 'a figure that rests on it',
  };
  return (Object.keys(used) as (keyof typeof used)[]).flatMap((noun) => {
    const references = new Set(used[noun]);
    return [...known[noun].keys()]
      .filter((id) => !references.has(id) && !(noun === 'upkeep' && catalog.upkeeps.get(id)!.severity === 'comfort'))
      .map((id) =>
        doubt('catalog.unreferred', `Nothing refers to the ${noun} \`${id}\``, `${noun} ${id}`, expected[noun]),
      );
  });
}

const partUpkeeps = (catalog: Catalog): Upkeep[] =>
  [...(catalog.partUpkeeps?.values() ?? [])].flatMap((own) => [...own.values()]);

function doubtsOfUpkeep(upkeep: Upkeep): Problem[] {
  const where = `upkeep ${upkeep.id}`;
  const problems = upkeep.clocks.flatMap((clock) => doubtsOfClock(clock, where));
  const twice = upkeep.clocks.filter(
    (clock, i) => clock.kind !== 'after' && upkeep.clocks.findIndex((c) => c.kind === clock.kind) < i,
  );
  for (const clock of twice) {
    problems.push(doubt('catalog.clock-twice', `Two \`${clock.kind}\` clocks`, where, 'one, the stricter'));
  }
  return problems;
}

function doubtsOfClock(clock: Clock, where: string): Problem[] {
  const problems = outsideRange(clock).map(([field, value]) =>
    doubt(
      'catalog.range-outside',
      `\`${clock.kind}\` clock: \`${field}\` is ${value}, and the catalog's sources say ${clock.range![0]} to ${clock.range![1]}`,
      where,
      'a handbook that really says so',
    ),
  );
  if (clock.kind === 'limit' && (clock.side === 'below' ? clock.driftPerMonth > 0 : clock.driftPerMonth < 0)) {
    problems.push(
      doubt(
        'catalog.drift-away',
        `\`${clock.reading}\` drifts away from its limit`,
        where,
        'a drift towards the limit',
      ),
    );
  }
  return problems;
}

function partDoubts(catalog: Catalog): Problem[] {
  return [...catalog.partKinds.keys()]
    .filter((id) => (catalog.upkeepsOf.get(id) ?? []).length === 0)
    .map((id) =>
      doubt('catalog.part-idle', `The kind of part \`${id}\` has no upkeep`, `part ${id}`, 'at least one upkeep'),
    );
}

/** Hazards whose handling wants practice; of the others the sheet is enough. */
const DRILLED: ReadonlySet<Hazard> = new Set([
  'jacking',
  'brakes',
  'LP gas',
  '120 V',
  'stored force',
  'fire',
  'carbon monoxide',
]);

function mishapDoubts(catalog: Catalog): Problem[] {
  return [...catalog.mishaps.values()].flatMap((mishap) => {
    const where = `mishap ${mishap.id}`;
    return [
      ...(mishap.drill === undefined && (mishap.hazards ?? []).some((hazard) => DRILLED.has(hazard))
        ? [doubt('catalog.mishap-undrilled', `No drill practises \`${mishap.id}\``, where, 'a drill')]
        : []),
      ...(mishap.preventedBy.length === 0
        ? [doubt('catalog.mishap-unprevented', `No upkeep prevents \`${mishap.id}\``, where, 'an upkeep')]
        : []),
    ];
  });
}

/** A reading of one name must be one quantity wherever it is taken of the same kind of part. */
function readingDoubts(catalog: Catalog): Problem[] {
  const first = new Map<string, { unit: string; upkeep: string }>();
  return [...catalog.upkeeps.values()].flatMap((upkeep) =>
    upkeep.readings.flatMap(({ what, unit }) => {
      const known = first.get(what);
      if (known === undefined) first.set(what, { unit, upkeep: upkeep.id });
      if (known === undefined || dimensionOfUnit(known.unit) === dimensionOfUnit(unit)) return [];
      return [
        doubt(
          'catalog.reading-two-ways',
          `\`${what}\` is read in ${unit} here and in ${known.unit} by \`${known.upkeep}\``,
          `upkeep ${upkeep.id}`,
          'one dimension for one name',
        ),
      ];
    }),
  );
}

/** Safety intervals that rest on a regulation or standard nobody has looked up. */
function fromMemory(catalog: Catalog): Problem[] {
  const resting = new Set(
    [...catalog.upkeeps.values()]
      .filter(({ severity }) => severity === 'safety')
      .flatMap(({ clocks }) => clocks.map((clock) => clock.source)),
  );
  return [...catalog.sources.values()]
    .filter(
      ({ id, kind, seen }) => resting.has(id) && seen === 'memory' && (kind === 'regulation' || kind === 'standard'),
    )
    .map(({ id, title }) =>
      doubt(
        'catalog.source-memory',
        `Safety intervals rest on ${title}, cited from memory`,
        `source ${id}`,
        '`seen: read`',
      ),
    );
}
