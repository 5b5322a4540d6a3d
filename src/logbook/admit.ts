import { type Catalog, type OwnerSetting, withOverrides } from '../catalog/index.ts';
import type { Problem } from '../problem/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import { outOfBounds } from './bounds.ts';
import type { Entry } from './entry.ts';
import { chainOf, type RigState } from './fold.ts';
import { strikesItself } from './judge.ts';
import { odometerTrack, shownMiles, type VehicleRole } from './odometer.ts';
import { settingKind, settingProblems, settingSchemas } from './setting-kinds.ts';
import { settingsOf } from './settings.ts';

/** What an entry is admitted against. */
export interface Admission {
  /** As shipped: what the owner laid over it is in the logbook. */
  readonly catalog: Catalog;
  /** Today where the writer is: work cannot have been done after it. */
  readonly today: string;
}

/**
 * What keeps an entry out of the logbook of `state`; empty when it may be written. Schema is taken as checked (`readEntry`).
 *
 * Problems: `logbook.future`, `logbook.part-unknown`, `logbook.part-fitted`, `logbook.kind-unknown`, `logbook.upkeep-unknown`,
 * `logbook.upkeep-part`, `logbook.odometer-backwards`, `logbook.trip-unknown`, `logbook.strike-unknown`, `logbook.strike-itself`, `logbook.strike-strike`, `logbook.strike-statement`,
 * `logbook.mends`, `logbook.setting-unknown`, `logbook.setting-value`, `logbook.id-taken`, `logbook.bounds` (`where` ends in the field of the body),
 * `catalog.*` (a figure, upkeep or kind of part of the owner's own that does not hold).
 */
export function admit(state: RigState, entry: Entry, { catalog, today }: Admission): Problem[] {
  const where = `${entry.kind} of ${entry.on}`;
  const problems: Problem[] = [];
  const say = (problem: Omit<Problem, 'where'>): void => void problems.push({ ...problem, where });

  const same = state.entries.get(entry.id);
  if (same && JSON.stringify(same) !== JSON.stringify(entry)) {
    say({
      code: 'logbook.id-taken',
      what: `Another entry already has the id ${entry.id}`,
      expected: 'a new ULID for each entry',
    });
  }
  if (entry.on > today) {
    say({
      code: 'logbook.future',
      what: `${entry.on} is in the future`,
      expected: `a day up to today, ${today}`,
      next:
        entry.kind === 'work'
          ? 'Work is written down when it is done; pin it to a day to plan it.'
          : 'Write it down on the day.',
    });
  }
  for (const { path, what, expected } of outOfBounds(entry, today, catalog))
    problems.push({ code: 'logbook.bounds', what, where: `${where}: ${path}`, expected });
  for (const check of [parts, odometer, trips, strike, mends, setting])
    problems.push(...check(state, entry, catalog, where));
  return problems;
}

type Check = (state: RigState, entry: Entry, catalog: Catalog, where: string) => Problem[];

const onRig = (state: RigState, part: string): string | undefined => {
  const last = chainOf(state, `part/${part}`, 'fit').at(-1);
  return last?.kind === 'fit' ? last.body.kind : undefined;
};

const parts: Check = (state, entry, catalog, where) => {
  switch (entry.kind) {
    case 'fit': {
      const { part, kind } = entry.body;
      const kindsKnown =
        catalog.partKinds.has(kind) || chainOf(state, `setting/own-part-kind/${kind}`, 'set').length > 0;
      if (!kindsKnown) {
        return [
          {
            code: 'logbook.kind-unknown',
            what: `There is no kind of part “${kind}”`,
            where,
            expected: near(kind, [...catalog.partKinds.keys()]),
          },
        ];
      }
      const there = onRig(state, part);
      return there === undefined || there === kind
        ? []
        : [
            {
              code: 'logbook.part-fitted',
              what: `“${part}” is already on the rig, as ${there}`,
              where,
              next: 'Give the new part another id, or remove the old one first.',
            },
          ];
    }
    case 'remove':
    case 'paper':
      return unknownPart(state, entry.body.part, where);
    case 'reading':
      return entry.body.part === undefined ? [] : unknownPart(state, entry.body.part, where);
    case 'drill':
      return unknownDuty(state, entry.body.part, entry.body.upkeep, catalog, where);
    case 'work':
      return unknownDuties(state, entry.body.done, catalog, where);
    default:
      return [];
  }
};

function unknownPart(state: RigState, part: string, where: string): Problem[] {
  if (onRig(state, part) !== undefined) return [];
  const ids = [...state.subjects.under('part/')].map(([name]) => name.slice(5));
  return [
    {
      code: 'logbook.part-unknown',
      what: `There is no part “${part}” on the rig`,
      where,
      expected: ids.length ? near(part, ids) : 'a part that was fitted; none is yet',
      next: 'Write down the fitting of the part first.',
    },
  ];
}

/** Jobs of one entry that are told with what was perhaps meant; the rest would say the same again, and cost as much. */
const JOBS_TOLD = 5;

function unknownDuties(
  state: RigState,
  done: readonly { readonly part: string; readonly upkeep: string }[],
  catalog: Catalog,
  where: string,
): Problem[] {
  const problems: Problem[] = [];
  for (const { part, upkeep } of done) {
    problems.push(...unknownDuty(state, part, upkeep, catalog, where));
    if (problems.length >= JOBS_TOLD) break;
  }
  return problems;
}

function unknownDuty(state: RigState, part: string, upkeep: string, catalog: Catalog, where: string): Problem[] {
  const missing = unknownPart(state, part, where);
  if (missing.length) return missing;
  if (chainOf(state, `setting/own-upkeep/${upkeep}`, 'set').length > 0) return [];
  const known = catalog.upkeeps.get(upkeep);
  if (!known) {
    return [
      {
        code: 'logbook.upkeep-unknown',
        what: `There is no upkeep “${upkeep}”`,
        where,
        expected: near(upkeep, [...catalog.upkeeps.keys()]),
      },
    ];
  }
  const kind = onRig(state, part);
  if (known.part === kind) return [];
  const duties = catalog.upkeepsOf.get(kind ?? '') ?? [];
  return [
    {
      code: 'logbook.upkeep-part',
      what: `“${known.title}” belongs to a ${known.part}, and “${part}” is a ${kind}`,
      where,
      expected: duties.length ? duties.map((duty) => duty.id).join(', ') : 'a part with an upkeep of its own',
    },
  ];
}

const odometer: Check = (state, entry, _catalog, where) =>
  (['trailer', 'tow'] as const).flatMap((role) => backwards(state, entry, role, where));

function backwards(state: RigState, entry: Entry, role: VehicleRole, where: string): Problem[] {
  const shown = shownMiles(entry, role);
  if (shown === undefined || entry.kind === 'adjust' || state.entries.has(entry.id)) return [];
  const { points } = odometerTrack(state, role);
  // Only readings of the same instrument can be compared: those since the replacement before, and until the one after.
  const earlier = points.filter((point) => point.entry.on <= entry.on);
  const later = points.filter((point) => point.entry.on > entry.on && point.entry.kind !== 'adjust');
  const before =
    earlier.findLast(
      (point) => point.entry.on < entry.on || point.entry.kind === 'adjust' || point.shownMiles <= shown,
    ) ?? earlier.at(-1);
  const after = points.some((point) => point.entry.on > entry.on && point.entry.kind === 'adjust')
    ? undefined
    : later[0];
  const miles = (value: number): string => formatQuantity({ value, unit: 'mi' }, { digits: 1 });
  const name = role === 'trailer' ? 'The trailer’s odometer' : 'The tow vehicle’s odometer';
  if (before && shown < before.shownMiles) {
    return [
      {
        code: 'logbook.odometer-backwards',
        what: `${name} would go backwards: ${miles(shown)} after ${miles(before.shownMiles)} on ${before.entry.on}`,
        where,
        expected: `${miles(before.shownMiles)} or more`,
        next: 'If the odometer was replaced, write that down as an adjustment with what the old one showed; if the earlier reading is wrong, strike it.',
      },
    ];
  }
  if (after && shown > after.shownMiles) {
    return [
      {
        code: 'logbook.odometer-backwards',
        what: `${name} would go backwards: ${miles(shown)} on ${entry.on}, but ${miles(after.shownMiles)} on ${after.entry.on}`,
        where,
        expected: `${miles(after.shownMiles)} or less`,
        next: 'Check the date and the figure, or strike the later reading if that one is wrong.',
      },
    ];
  }
  return [];
}

const trips: Check = (state, entry, _catalog, where) => {
  if (entry.kind !== 'trip-done' && entry.kind !== 'waive') return [];
  if (chainOf(state, `trip/${entry.body.trip}`, 'plan').length > 0) return [];
  const ids = [...state.subjects.under('trip/')].map(([name]) => name.slice(5));
  return [
    {
      code: 'logbook.trip-unknown',
      what: `No trip “${entry.body.trip}” was planned`,
      where,
      expected: ids.length ? near(entry.body.trip, ids) : 'a planned trip; there is none',
    },
  ];
};

const strike: Check = (state, entry, _catalog, where) => {
  if (entry.kind !== 'strike') return [];
  const itself = strikesItself(entry, where);
  if (itself.length > 0) return itself;
  const id = entry.body.entry;
  const target = state.entries.get(id);
  if (!target) return [{ code: 'logbook.strike-unknown', what: `There is no entry ${id} to strike`, where }];
  if (target.kind === 'witness')
    return [{ code: 'logbook.strike-statement', what: 'What a device has signed cannot be struck', where }];
  if (target.kind === 'strike') {
    return [
      {
        code: 'logbook.strike-strike',
        what: 'A strike cannot be struck',
        where,
        next: 'Write the struck entry down again.',
      },
    ];
  }
  return [];
};

/** Only what somebody found wrong, and is good by this very work, can have been put right by it. */
const mends: Check = (state, entry, _catalog, where) => {
  if (entry.kind !== 'work') return [];
  const good = entry.body.done.filter(({ outcome }) => outcome === 'good');
  return (entry.body.mends ?? []).flatMap((id): Problem[] => {
    const found = state.entries.get(id);
    const done = found?.kind === 'work' ? found.body.done : found?.kind === 'drill' ? [found.body] : [];
    const failed = done.filter(({ outcome }) => outcome === 'failed');
    const same = failed.some((one) => good.some(({ part, upkeep }) => part === one.part && upkeep === one.upkeep));
    if (same && found!.on <= entry.on && !state.struck.has(id)) return [];
    return [
      {
        code: 'logbook.mends',
        what: `This does not put right what entry ${id} says`,
        where: `${where}: mends`,
        expected: 'an entry of that day or before, not struck, that found wrong what is good now',
      },
    ];
  });
};

const setting: Check = (state, entry, catalog, where) => {
  if (entry.kind !== 'set') return [];
  const { key, value } = entry.body;
  if (settingKind(key) === undefined) {
    return [
      {
        code: 'logbook.setting-unknown',
        what: `There is no setting “${key.split('/', 1)[0]}”`,
        where,
        expected: Object.keys(settingSchemas).join(', '),
      },
    ];
  }
  if (value === null) return [];
  const wrong = settingProblems(entry, where);
  return wrong.length > 0 ? wrong : againstOwn(state, { key, value }, catalog, where);
};

const OVER_CATALOG = ['own-part-kind', 'own-upkeep', 'override'] as const;

/** What the catalog has against a word of the owner's, laid over it beside all the others. */
function againstOwn(state: RigState, word: OwnerSetting, catalog: Catalog, where: string): Problem[] {
  if (!OVER_CATALOG.some((kind) => word.key.startsWith(`${kind}/`))) return [];
  const others = OVER_CATALOG.flatMap((kind) =>
    [...settingsOf(state, kind)].map(([about, value]): OwnerSetting => ({ key: `${kind}/${about}`, value })),
  ).filter(({ key }) => key !== word.key);
  return withOverrides(catalog, [...others, word])
    .problems.filter((problem) => problem.where === `setting ${word.key}`)
    .map((problem) => ({ ...problem, where: `${where}: value` }));
}

/** The nearest few names, for “did you mean”. */
function near(name: string, known: readonly string[]): string {
  const words = new Set(name.split('-'));
  const score = (id: string): number =>
    id.split('-').filter((word) => words.has(word)).length - Math.abs(id.length - name.length) / 100;
  return known
    .map((id) => ({ id, score: score(id) }))
    .sort((a, b) => b.score - a.score)
    .slice(0, 4)
    .map(({ id }) => id)
    .join(', ');
}
