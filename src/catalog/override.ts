import * as z from 'zod/mini';
import { fail, ok, type Problem, problemText, type Result } from '../problem/index.ts';
import { dimensionOf, quantitySchema } from '../quantity/index.ts';
import type { OwnerSources } from './owner-sources.ts';
import { clockSchema } from './schema.ts';
import type { Clock, Upkeep } from './types.ts';

const clockFields = {
  every: z.exactOptional(z.union([z.number().check(z.positive()), quantitySchema()])),
  from: z.exactOptional(z.number().check(z.positive())),
  by: z.exactOptional(z.number().check(z.positive())),
  countedFrom: z.exactOptional(z.enum(['made', 'fitted'])),
  label: z.exactOptional(z.enum(['governs', 'required'])),
  before: z.exactOptional(z.enum(['first trip', 'first freeze'])),
  withinDays: z.exactOptional(z.number().check(z.nonnegative())),
  counter: z.exactOptional(z.string()),
  limit: z.exactOptional(quantitySchema()),
  atMiles: z.exactOptional(z.array(quantitySchema('length')).check(z.minLength(1))),
  atDays: z.exactOptional(z.array(z.number().check(z.nonnegative())).check(z.minLength(1))),
} as const;

/** The value of an `override/…` setting. */
export const overrideSchema = z.strictObject({
  upkeep: z.string().check(z.minLength(1)),
  /** A part of the logbook; absent: every part of the kind. */
  part: z.exactOptional(z.string().check(z.minLength(1))),
  clock: z.exactOptional(
    z.enum(['miles', 'months', 'nights', 'hours', 'age', 'season', 'departure', 'after', 'limit']),
  ),
  ...clockFields,
  /** Takes the upkeep's clocks of this kind off. */
  off: z.exactOptional(z.literal(true)),
  steps: z.exactOptional(z.array(z.string().check(z.trim(), z.minLength(1))).check(z.minLength(1))),
  cautions: z.exactOptional(z.array(z.string().check(z.trim(), z.minLength(1))).check(z.minLength(1))),
  minutes: z.exactOptional(z.number().check(z.positive())),
  /** As a person would look it up: `Axle handbook, page 14`. */
  source: z.string().check(z.trim(), z.minLength(1, 'say where it comes from')),
  sourceKind: z._default(z.enum(['handbook', 'common practice']), 'handbook'),
});

export type Override = z.infer<typeof overrideSchema>;

/** Which fields a clock of each kind takes. */
const fieldsOf: Readonly<Record<Clock['kind'], readonly (keyof typeof clockFields)[]>> = {
  miles: ['every'],
  months: ['every'],
  nights: ['every'],
  hours: ['every', 'counter'],
  age: ['from', 'by', 'countedFrom', 'label'],
  season: ['before'],
  departure: ['withinDays'],
  after: ['atMiles', 'atDays'],
  limit: ['limit'],
};

const refused = (what: string, expected: string): Problem => ({ code: 'catalog.override-refused', what, expected });

/** The upkeep with the owner's change laid over it. */
export function changedUpkeep(upkeep: Upkeep, override: Override, sources: OwnerSources): Result<Upkeep> {
  const given = (Object.keys(clockFields) as (keyof typeof clockFields)[]).filter(
    (field) => override[field] !== undefined,
  );
  const texts = (['steps', 'cautions', 'minutes'] as const).filter((field) => override[field] !== undefined);
  if (override.clock === undefined && texts.length === 0) {
    return fail(
      refused('The override changes nothing', '`clock` with its figure, or `steps`, `cautions` or `minutes`'),
    );
  }
  if (override.clock === undefined && (given.length > 0 || override.off === true)) {
    return fail(
      refused(`\`${given[0] ?? 'off'}\` belongs to a clock, and none is named`, '`clock`: the kind of clock it is for'),
    );
  }
  const clocks =
    override.clock === undefined ? ok(upkeep.clocks) : changedClocks(upkeep, override.clock, override, given, sources);
  if (!clocks.ok) return clocks;
  const source = sources.add(override.source, override.sourceKind);
  const changed = [...(override.clock === undefined ? [] : [`clock ${override.clock}`]), ...texts];
  return ok({
    ...upkeep,
    clocks: clocks.value,
    ...(override.steps === undefined ? {} : { steps: override.steps }),
    ...(override.minutes === undefined ? {} : { minutes: override.minutes }),
    // The catalog's cautions stay; the owner's come after them.
    cautions: [...upkeep.cautions, ...(override.cautions ?? [])],
    owner: { source, changed: [...(upkeep.owner?.changed ?? []), ...changed] },
  });
}

function changedClocks(
  upkeep: Upkeep,
  kind: Clock['kind'],
  override: Override,
  given: readonly (keyof typeof clockFields)[],
  sources: OwnerSources,
): Result<readonly Clock[]> {
  const foreign = given.find((field) => !fieldsOf[kind].includes(field));
  if (foreign !== undefined) {
    return fail(
      refused(`A \`${kind}\` clock has no \`${foreign}\``, fieldsOf[kind].map((field) => `\`${field}\``).join(', ')),
    );
  }
  const present = upkeep.clocks.filter((clock) => clock.kind === kind);
  if (override.off === true) {
    if (given.length > 0) return fail(refused('`off` and a figure at once', 'one of them'));
    if (present.length === 0)
      return fail(
        refused(`\`${upkeep.id}\` has no \`${kind}\` clock`, upkeep.clocks.map((one) => one.kind).join(', ')),
      );
    const rest = upkeep.clocks.filter((clock) => clock.kind !== kind);
    if (rest.length > 0) return ok(rest);
    return fail(
      refused(
        `That is the last clock of \`${upkeep.id}\``,
        'at least one clock; to go without it once, waive it for that trip',
      ),
    );
  }
  if (given.length === 0)
    return fail(
      refused(`No figure for the \`${kind}\` clock`, fieldsOf[kind].map((field) => `\`${field}\``).join(', ')),
    );
  const source = sources.add(override.source, override.sourceKind);
  const figures = Object.fromEntries(given.map((field) => [field, override[field]]));
  if (present.length > 0) return eachChanged(upkeep, kind, figures, source);
  if (kind === 'after' || kind === 'limit') {
    return fail(
      refused(`\`${upkeep.id}\` has no \`${kind}\` clock to change`, upkeep.clocks.map((one) => one.kind).join(', ')),
    );
  }
  const defaults = kind === 'age' ? { countedFrom: 'made', label: 'governs' } : {};
  const made = readClock({ kind, ...defaults, ...figures, source });
  return made.ok ? ok([...upkeep.clocks, made.value]) : made;
}

function eachChanged(
  upkeep: Upkeep,
  kind: Clock['kind'],
  figures: Readonly<Record<string, unknown>>,
  source: string,
): Result<readonly Clock[]> {
  const clocks: Clock[] = [];
  for (const clock of upkeep.clocks) {
    if (clock.kind !== kind) {
      clocks.push(clock);
      continue;
    }
    const merged: Record<string, unknown> = { ...clock, ...figures, source };
    // The owner's figure holds whatever the size.
    if (clock.kind === 'age' && (figures.from !== undefined || figures.by !== undefined)) delete merged.sizes;
    if (clock.kind === 'limit' && figures.limit !== undefined) {
      delete merged.limitFact;
      const problem = limitProblem(upkeep, clock, figures.limit as NonNullable<Override['limit']>);
      if (problem !== undefined) return fail(problem);
    }
    const changed = readClock(merged);
    if (!changed.ok) return changed;
    clocks.push(changed.value);
  }
  return ok(clocks);
}

function limitProblem(
  upkeep: Upkeep,
  clock: Clock & { kind: 'limit' },
  limit: NonNullable<Override['limit']>,
): Problem | undefined {
  const reading = upkeep.readings.find((one) => one.what === clock.reading);
  if (reading === undefined) return undefined;
  const unit = quantitySchema(dimensionOf(limit.unit)).safeParse(`1 ${reading.unit}`);
  return unit.success
    ? undefined
    : refused(`The limit is in ${limit.unit}, the reading in ${reading.unit}`, `a limit in ${reading.unit}`);
}

function readClock(raw: unknown): Result<Clock> {
  const read = clockSchema.safeParse(raw);
  if (read.success) return ok(read.data as Clock);
  const issue = read.error.issues[0]!;
  const inner = issue.code === 'custom' ? (issue.params?.problem as Problem | undefined) : undefined;
  const what = `${issue.path.join('.')}: ${inner === undefined ? issue.message : problemText(inner)}`;
  return fail({
    code: inner === undefined ? 'catalog.value-wrong' : 'catalog.unit-wrong',
    what,
    expected: 'a figure of this clock’s kind',
  });
}
