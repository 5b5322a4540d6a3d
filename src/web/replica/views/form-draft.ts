import { partOf } from '../../../logbook/index.ts';
import { fail, ok, type Result } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';
import type { Proposal } from '../protocol.ts';
import type { FormSpec } from './form.ts';
import { bodyOf, put } from './form-fields.ts';
import { NOT_DONE } from './form-work.ts';
import { ownSetting } from './own-forms.ts';
import { slugOf } from './slug.ts';
import { tripNotes, tripProblems } from './trip-checks.ts';

interface Done {
  readonly outcome?: unknown;
  readings?: { readonly value?: unknown }[];
}

/** A filled-in form as a draft, and what is to be said once more before it is written. */
export interface Filled {
  readonly draft: { readonly kind: FormSpec['kind']; readonly on: string; readonly body: Record<string, unknown> };
  readonly notes: readonly string[];
}

type Values = Readonly<Record<string, string>>;

/** The filled-in form as a draft; problems name the field they are of. */
export function filledForm(keeper: Keeper, spec: FormSpec, on: string, values: Values): Result<Filled> {
  if (spec.own !== undefined) {
    const made = ownSetting(keeper, spec.own, values);
    if (!made.ok) return made;
    const { key, value, notes = [] } = made.value;
    return ok({ draft: { kind: 'set', on, body: { key, value } }, notes });
  }
  const body = bodyFrom(keeper, spec, values);
  if (spec.several && (body.done as Done[]).length === 0)
    return fail({ code: 'web.nothing-done', what: 'No job is ticked yet', expected: 'at least one that was done' });
  return ok({ draft: { kind: spec.kind, on, body }, notes: [] });
}

/** Readings left empty are no readings, jobs not done are left out. */
function bodyFrom(keeper: Keeper, spec: FormSpec, values: Values): Record<string, unknown> {
  const body = bodyOf(spec.fields, values);
  for (const [path, value] of spec.fixed) put(body, path, value);
  if (spec.kind === 'work') {
    delete body.job;
    body.done = ((body.done as Done[] | undefined) ?? []).filter((done) => done.outcome !== NOT_DONE);
  }
  for (const done of (body.done as Done[] | undefined) ?? []) {
    const read = done.readings?.filter((reading) => reading?.value !== undefined) ?? [];
    if (read.length > 0) done.readings = read;
    else delete done.readings;
  }
  if (spec.kind === 'trip' && values.stops) body.stops = JSON.parse(values.stops);
  if (spec.kind === 'trip') body.chance = Number(body.chance ?? 1);
  if (spec.kind === 'trip') body.trip ??= slugOf(`${body.name} ${String(body.leave).slice(0, 4)}`);
  if (spec.kind === 'fit') body.part ??= freeId(keeper, `${body.kind} ${body.place ?? ''}`);
  return body;
}

/** An id no other part has: `lp-cylinder-tongue-left`, and a number where there are two. */
function freeId(keeper: Keeper, words: string): string {
  const base = slugOf(words);
  let id = base;
  for (let n = 2; partOf(keeper.state, id) !== undefined; n++) id = `${base}-${n}`;
  return id;
}

/** What a form proposes, looked at for what its kind asks beyond the schema. */
export function looked(keeper: Keeper, made: Proposal, notes: readonly string[]): Proposal {
  const [first] = made.drafts;
  if (first === undefined) return made;
  if (first.kind !== 'trip' && first.kind !== 'trip-done') return { ...made, notes };
  const problems = tripProblems(first.kind, first.on, first.body);
  if (problems.length > 0) return { drafts: [], said: '', problems };
  return first.kind === 'trip' ? { ...made, notes: tripNotes(keeper, first.body) } : made;
}
