import type { Upkeep } from '../../../catalog/index.ts';
import { type EntryKind, odometerTrack, partOf, partsOf, tripsOf } from '../../../logbook/index.ts';
import { dimensionOf, parseUnit, type System, unitSymbol } from '../../../quantity/index.ts';
import type { Proof } from '../../../sendoff/index.ts';
import type { Keeper } from '../keeper.ts';
import type { Proposal } from '../protocol.ts';
import { factName, partName, readingName, type Told } from './entry-text.ts';
import { bodyOf, type Choice, type Field, fieldsOf, labelOf, put, unitChoices } from './form-fields.ts';
import { toldBy } from './go.ts';
import { tripNotes, tripProblems } from './trip-checks.ts';

/** Which form is wanted: a kind of entry, or the proof that lifts a finding; with what is known beforehand. */
export type FormAsk =
  | { readonly kind: EntryKind; readonly known?: Readonly<Record<string, string>> }
  | { readonly proof: Proof }
  /** Everything done on one yard day. */
  | { readonly jobs: readonly { readonly upkeep: string; readonly part: string }[] };

export interface FormSpec {
  readonly kind: EntryKind;
  readonly title: string;
  readonly on: string;
  readonly latest: string;
  readonly fields: readonly Field[];
  /** Parts of the body that are not filled in: which upkeep, which part. */
  readonly fixed: readonly (readonly [path: string, value: unknown])[];
  readonly cautions: readonly string[];
  readonly steps: readonly string[];
  readonly photos: boolean;
}

const TITLES: Readonly<Record<EntryKind, string>> = {
  enroll: 'A vehicle of the rig',
  fit: 'A part fitted or found',
  remove: 'A part taken off',
  reading: 'Something read off',
  work: 'Work done',
  trip: 'A trip planned',
  'trip-done': 'A trip finished',
  weigh: 'A weighing',
  carry: 'Something aboard, or no longer',
  drill: 'Something practised',
  paper: 'A paper renewed',
  set: 'A figure of your own',
  adjust: 'An odometer replaced',
  waive: 'Overruled for one trip',
  strike: 'An entry struck',
};

/** The forms a person may choose from, in the order of use. */
export const KINDS_OFFERED: readonly EntryKind[] = [
  ...(['work', 'reading', 'trip', 'trip-done', 'weigh', 'fit', 'carry'] as const),
  ...(['paper', 'drill', 'remove', 'adjust', 'enroll'] as const),
];
export const kindTitle = (kind: EntryKind): string => TITLES[kind];

export function formFor(keeper: Keeper, ask: FormAsk): FormSpec {
  if ('kind' in ask) return plainForm(keeper, ask.kind, ask.known ?? {});
  if ('jobs' in ask) return workForm(keeper, ask.jobs);
  const { proof } = ask;
  switch (proof.kind) {
    case 'work':
      return workForm(
        keeper,
        proof.parts.map((part) => ({ part, upkeep: proof.upkeep })),
      );
    case 'drill':
      return plainForm(keeper, 'drill', { upkeep: proof.upkeep, part: proof.part, outcome: 'good', who: keeper.by });
    case 'reading':
      return plainForm(keeper, 'reading', { part: proof.part, what: proof.what });
    case 'fit':
      return plainForm(keeper, 'fit', { kind: proof.partKind, ...(proof.part === null ? {} : { part: proof.part }) });
    case 'paper':
      return plainForm(keeper, 'paper', { part: proof.part });
    case 'carry':
      return plainForm(keeper, 'carry', { item: proof.items[0] ?? '', aboard: 'true' });
    case 'enroll':
      return plainForm(keeper, 'enroll', { vehicle: proof.vehicle });
    case 'weigh':
      return plainForm(keeper, 'weigh', {});
  }
}

function plainForm(keeper: Keeper, kind: EntryKind, known: Readonly<Record<string, string>>): FormSpec {
  if (kind === 'work')
    return workForm(keeper, known.upkeep && known.part ? [{ upkeep: known.upkeep, part: known.part }] : []);
  const told = toldBy(keeper);
  const fields = fieldsOf(kind, told.system).flatMap((field) => {
    const isWay = field.path === 'miles' && kind === 'trip';
    const shown =
      kind === 'trip-done' && field.path === 'miles'
        ? { ...field, label: 'Miles driven' }
        : { ...field, ...(isWay ? { byFile: true } : {}) };
    const asked = asChoice(keeper, told, kind === 'trip' ? tripField(shown, known) : shown, known);
    return hidden(kind, field.path, known)
      ? []
      : [{ ...asked, value: known[field.path] ?? defaultOf(keeper, kind, field) }];
  });
  if (kind === 'fit') fields.push(...factFields(keeper, told, known));
  const code = fields.findIndex((field) => kind === 'fit' && field.path === 'code');
  const vin = fields.findIndex((field) => field.path === 'vin');
  if (vin >= 0) fields[vin] = { ...fields[vin]!, decodes: 'vin' };
  if (code >= 0 && known.kind !== undefined) fields[code] = { ...fields[code]!, decodes: known.kind };
  return {
    kind,
    title: titleFor(told, kind, known),
    on: keeper.today,
    latest: keeper.today,
    fields,
    fixed: fixedOf(keeper, kind, known),
    cautions: [],
    steps: kind === 'fit' ? (keeper.catalog.partKinds.get(known.kind ?? '')?.identify ?? []) : [],
    photos: true,
  };
}

/** How sure a trip is, in words rather than as a figure between nothing and one. */
const CHANCES: readonly Choice[] = [
  { value: '1', label: 'Surely' },
  { value: '0.8', label: 'Very likely, 80 %' },
  { value: '0.5', label: 'Perhaps, 50 %' },
  { value: '0.2', label: 'Hardly, 20 %' },
];

/** A chance that was written down otherwise stays one to choose. */
const chancesWith = (chance: string | undefined): readonly Choice[] =>
  chance === undefined || CHANCES.some(({ value }) => value === chance)
    ? CHANCES
    : [...CHANCES, { value: chance, label: `${Math.round(Number(chance) * 100)} %` }];

function tripField(field: Field, known: Readonly<Record<string, string>>): Field {
  switch (field.path) {
    case 'chance':
      return { ...field, label: 'Do we go?', type: 'choice', required: true, choices: chancesWith(known.chance) };
    case 'cancelled':
      return { ...field, label: 'Given up' };
    case 'nights':
      return { ...field, label: 'Nights away', help: 'Where nothing is said: all between leaving and return.' };
    case 'highest':
    case 'lowest':
      return { ...field, help: 'For tire pressures, and for water that freezes.' };
    default:
      return field;
  }
}

/** Names for machines are made from the others when nobody gave one. */
const hidden = (kind: EntryKind, path: string, known: Readonly<Record<string, string>>): boolean =>
  (kind === 'adjust' && path === 'what') ||
  (kind === 'trip' && path === 'trip') ||
  (kind === 'fit' && (path === 'part' || (path === 'kind' && known.kind !== undefined)));

/** What stands in the body without being asked for. */
function fixedOf(
  keeper: Keeper,
  kind: EntryKind,
  known: Readonly<Record<string, string>>,
): (readonly [string, unknown])[] {
  if (kind === 'adjust') return [['what', 'odometer']];
  if (kind === 'trip' && known.trip !== undefined) {
    // No field asks for its stops: they stay as they were planned, unless a file tells others.
    const stops = tripsOf(keeper.state).find((trip) => trip.id === known.trip)?.plan.body.stops;
    return [['trip', known.trip], ...(stops ? [['stops', stops] as const] : [])];
  }
  if (kind !== 'fit') return [];
  const fixed: (readonly [string, unknown])[] = [];
  if (known.kind !== undefined) fixed.push(['kind', known.kind]);
  if (known.part !== undefined) fixed.push(['part', known.part]);
  return fixed;
}

function titleFor(told: Told, kind: EntryKind, known: Readonly<Record<string, string>>): string {
  if (kind === 'reading' && known.part && known.what)
    return `${labelOf(readingName(known.what))} of the ${partName(told, known.part)}`;
  if (kind === 'paper' && known.part) return `${labelOf(partName(told, known.part))} renewed`;
  if (kind === 'fit' && known.kind) return told.catalog.partKinds.get(known.kind)?.name ?? TITLES.fit;
  return TITLES[kind];
}

function defaultOf(keeper: Keeper, kind: EntryKind, field: Field): string {
  if (field.path === 'who') return keeper.by;
  if (field.path === 'outcome') return 'good';
  if (field.path === 'vehicle') return kind === 'fit' || kind === 'carry' ? '' : 'trailer';
  if (field.path === 'aboard') return 'true';
  if (kind === 'trip' && field.path === 'chance') return '1';
  if (kind === 'trip-done' && (field.path === 'back' || field.path === 'left')) return keeper.today;
  return '';
}

/** Names of things on the rig are chosen, not typed. */
function asChoice(keeper: Keeper, told: Told, field: Field, known: Readonly<Record<string, string>>): Field {
  const choose = (choices: Choice[]): Field =>
    choices.length === 0 ? field : { ...field, type: 'choice', choices: [{ value: '', label: '–' }, ...choices] };
  switch (field.path) {
    case 'part':
    case 'replaces': {
      const kindKnown = known.kind !== undefined;
      if (
        kindKnown ||
        (field.path === 'part' && partOf(keeper.state, known.part ?? '') === undefined && known.part !== undefined)
      )
        return field;
      return choose(partsOf(keeper.state).map(({ id }) => ({ value: id, label: labelOf(partName(told, id)) })));
    }
    case 'kind':
      return choose([...keeper.catalog.partKinds.values()].map(({ id, name }) => ({ value: id, label: name })));
    case 'upkeep':
      return choose(
        [...keeper.catalog.upkeeps.values()]
          .filter((upkeep) => upkeep.drill)
          .map(({ id, title }) => ({ value: id, label: title })),
      );
    case 'item':
      return choose([...keeper.catalog.kit.values()].map(({ id, name }) => ({ value: id, label: name })));
    case 'trip':
      return known.trip === undefined && known.name === undefined
        ? choose(
            tripsOf(keeper.state)
              .filter((trip) => !trip.done)
              .map(({ id, plan }) => ({ value: id, label: plan.body.name })),
          )
        : field;
    case 'value':
      return readingUnit(keeper, field, known, told.system);
    default:
      return field;
  }
}

function readingUnit(keeper: Keeper, field: Field, known: Readonly<Record<string, string>>, system: System): Field {
  const kind = partOf(keeper.state, known.part ?? '')?.kind ?? '';
  const found = (keeper.catalog.upkeepsOf.get(kind) ?? [])
    .flatMap((upkeep) => upkeep.readings)
    .find((one) => one.what === known.what);
  return found ? measured(field, found.unit, system) : field;
}

/** A field that measures what this unit measures. */
function measured(field: Field, unit: string, system: System): Field {
  const parsed = parseUnit(unit);
  if (!parsed.ok) return field;
  const units = unitChoices(dimensionOf(parsed.value), system, parsed.value);
  return { ...field, type: 'quantity', units, unit: units[0]!.value };
}

function factFields(keeper: Keeper, told: Told, known: Readonly<Record<string, string>>): Field[] {
  const kind = keeper.catalog.partKinds.get(known.kind ?? '');
  return Object.entries(kind?.facts ?? {}).map(([fact, help]) => {
    const unit = kind?.factUnits?.[fact];
    const field: Field = {
      ...{ path: `facts.${fact}`, label: labelOf(factName(fact)), group: 'What its label says', type: 'text' as const },
      ...{ required: false, value: '', help },
      ...(fact === 'size' ? { decodes: 'tire-size' } : {}),
    };
    return unit === undefined ? field : measured(field, unit, told.system);
  });
}

const NOT_DONE = 'not done';

/** A job done on one part or several, each with its readings: a whole afternoon in one form. */
export function workForm(
  keeper: Keeper,
  jobs: readonly { readonly upkeep: string; readonly part: string }[],
): FormSpec {
  const told = toldBy(keeper);
  const fields: Field[] = [];
  const fixed: [string, unknown][] = [];
  const duties = jobs.map(({ upkeep }) => keeper.catalog.upkeeps.get(upkeep)).filter((one) => one !== undefined);
  jobs.forEach(({ upkeep, part }, index) => {
    const duty = keeper.catalog.upkeeps.get(upkeep);
    const alike = jobs.every((job) => job.upkeep === upkeep);
    const group =
      jobs.length === 1 ? '' : alike ? partName(told, part) : `${duty?.title ?? upkeep}: ${partName(told, part)}`;
    fixed.push([`done.${index}.upkeep`, upkeep], [`done.${index}.part`, part]);
    fields.push({
      ...{
        path: `done.${index}.outcome`,
        label: 'Outcome',
        group,
        type: 'choice',
        required: true,
        value: 'good',
        help: '',
      },
      choices: [
        { value: 'good', label: 'Good' },
        { value: 'failed', label: 'Failed' },
        ...(jobs.length > 1 ? [{ value: NOT_DONE, label: 'Not done' }] : []),
      ],
    });
    (duty?.readings ?? []).forEach((reading, at) => {
      fixed.push([`done.${index}.readings.${at}.what`, reading.what]);
      const limit = reading.limit ? `Limit ${reading.limit}` : '';
      const field: Field = {
        ...{
          path: `done.${index}.readings.${at}.value`,
          label: labelOf(readingName(reading.what)),
          group,
          type: 'text',
        },
        ...{ required: false, value: '', help: limit },
      };
      fields.push(measured(field, reading.unit, told.system));
    });
  });
  fields.push(
    ...fieldsOf('work', told.system).map((field) => ({
      ...field,
      value: field.path === 'odometer' ? odometerNow(keeper) : '',
    })),
  );
  const one = duties.length > 0 && duties.every((duty) => duty.id === duties[0]!.id) ? duties[0] : undefined;
  return {
    kind: 'work',
    title: one ? one.title : jobs.length === 0 ? TITLES.work : `${jobs.length} jobs done`,
    on: keeper.today,
    latest: keeper.today,
    fields,
    fixed,
    ...cautionsOf(keeper, duties),
    photos: true,
  };
}

function odometerNow(keeper: Keeper): string {
  const newest = odometerTrack(keeper.state, 'trailer').newest;
  return newest ? `${newest.shownMiles} ${unitSymbol('mi')}` : '';
}

function cautionsOf(keeper: Keeper, duties: readonly Upkeep[]): { cautions: string[]; steps: string[] } {
  const setups = [...new Set(duties.flatMap((duty) => duty.setups))].flatMap(
    (id) => keeper.catalog.setups.get(id) ?? [],
  );
  const cautions = [...setups.flatMap((setup) => setup.cautions), ...duties.flatMap((duty) => duty.cautions)];
  const steps = duties.length === 1 ? [...setups.flatMap((setup) => setup.steps), ...duties[0]!.steps] : [];
  return { cautions: [...new Set(cautions)], steps };
}

interface Done {
  readonly outcome?: unknown;
  readings?: { readonly value?: unknown }[];
}

/** The filled-in form as a draft. Readings left empty are no readings, jobs not done are left out. */
export function draftFrom(
  keeper: Keeper,
  spec: FormSpec,
  on: string,
  values: Readonly<Record<string, string>>,
): unknown {
  const body = bodyOf(spec.fields, values);
  for (const [path, value] of spec.fixed) put(body, path, value);
  if (spec.kind === 'work')
    body.done = ((body.done as Done[] | undefined) ?? []).filter((done) => done.outcome !== NOT_DONE);
  for (const done of (body.done as Done[] | undefined) ?? []) {
    const read = done.readings?.filter((reading) => reading?.value !== undefined) ?? [];
    if (read.length > 0) done.readings = read;
    else delete done.readings;
  }
  if (spec.kind === 'trip' && values.stops) body.stops = JSON.parse(values.stops);
  if (spec.kind === 'trip') body.chance = Number(body.chance ?? 1);
  if (spec.kind === 'trip') body.trip ??= slugOf(`${body.name} ${String(body.leave).slice(0, 4)}`);
  if (spec.kind === 'fit') body.part ??= freeId(keeper, `${body.kind} ${body.place ?? ''}`);
  return { kind: spec.kind, on, body };
}

/** A slug of words, as ids are written. */
export const slugOf = (name: string): string =>
  name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60) || 'rig';

/** An id no other part has: `lp-cylinder-tongue-left`, and a number where there are two. */
function freeId(keeper: Keeper, words: string): string {
  const base = slugOf(words);
  let id = base;
  for (let n = 2; partOf(keeper.state, id) !== undefined; n++) id = `${base}-${n}`;
  return id;
}

/** What a form proposes, looked at for what its kind asks beyond the schema. */
export function looked(keeper: Keeper, made: Proposal): Proposal {
  const [first] = made.drafts;
  if (first?.kind !== 'trip' && first?.kind !== 'trip-done') return made;
  const problems = tripProblems(first.kind, first.on, first.body);
  if (problems.length > 0) return { drafts: [], said: '', problems };
  return first.kind === 'trip' ? { ...made, notes: tripNotes(keeper, first.body) } : made;
}
