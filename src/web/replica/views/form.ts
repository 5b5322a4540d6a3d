import { type EntryKind, tripsOf } from '../../../logbook/index.ts';
import type { Proof } from '../../../sendoff/index.ts';
import type { Keeper } from '../keeper.ts';
import { partName, readingName } from './entry-text.ts';
import { asChoice, factFields, type Known, tripField } from './form-choices.ts';
import { type Field, fieldsOf, labelOf } from './form-fields.ts';
import { kindTitle } from './form-kinds.ts';
import { anyWorkForm, type Job, workForm } from './form-work.ts';
import { type OwnFormId, ownFields } from './own-forms.ts';
import { type Told, toldBy } from './told.ts';

export { filledForm, looked } from './form-draft.ts';

/** Which form is wanted, what is known beforehand, and what was chosen in it that changes what else is asked. */
export type FormAsk = { readonly chosen?: Known } & FormAbout;

type FormAbout =
  | { readonly kind: EntryKind; readonly known?: Known }
  /** The proof that lifts a finding. */
  | { readonly proof: Proof }
  /** Everything done on one yard day. */
  | { readonly jobs: readonly Job[] }
  /** One of the owner's own figures. */
  | { readonly own: OwnFormId };

export interface FormSpec {
  readonly kind: EntryKind;
  /** Whose fields become a figure of the owner's own. */
  readonly own?: OwnFormId;
  readonly title: string;
  readonly on: string;
  readonly latest: string;
  readonly fields: readonly Field[];
  /** Parts of the body that are not filled in: which upkeep, which part. */
  readonly fixed: readonly (readonly [path: string, value: unknown])[];
  readonly cautions: readonly string[];
  readonly steps: readonly string[];
  readonly photos: boolean;
  /** Several jobs, each of which may be done or not. */
  readonly several?: boolean;
}

export function formFor(keeper: Keeper, ask: FormAsk): FormSpec {
  if ('own' in ask) return ownForm(keeper, ask.own, ask.chosen ?? {});
  if ('kind' in ask) return plainForm(keeper, ask.kind, ask.known ?? {}, ask.chosen);
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
    case 'odometer':
      return plainForm(keeper, 'reading', { what: 'odometer', vehicle: proof.vehicle });
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

function ownForm(keeper: Keeper, own: OwnFormId, chosen: Known): FormSpec {
  return {
    ...{ kind: 'set', own, title: kindTitle('set'), on: keeper.today, latest: keeper.today },
    ...{ fields: ownFields(keeper, own, chosen), fixed: [], cautions: [], steps: [], photos: false },
  };
}

function plainForm(keeper: Keeper, kind: EntryKind, known: Known, chosen: Known = {}): FormSpec {
  if (kind === 'work') return anyWorkForm(keeper, chosen.job ?? '');
  const told = toldBy(keeper);
  const all = { ...known, ...chosen };
  const fixed = fixedOf(keeper, kind, known, all);
  const hidden = (path: string): boolean => isHidden(kind, path, all) || fixed.some(([one]) => one === path);
  return {
    kind,
    title: titleFor(told, kind, known),
    on: keeper.today,
    latest: keeper.today,
    fields: [
      ...fieldsOf(kind, told.system)
        .filter(({ path }) => !hidden(path))
        .flatMap((field) => asChoice(keeper, told, asked(kind, field, all), all) ?? [])
        .map((field) => ({ ...field, value: all[field.path] ?? defaultOf(keeper, kind, field, all) })),
      ...(kind === 'fit' ? factFields(keeper, told, all) : []),
    ],
    fixed,
    cautions: [],
    steps: kind === 'fit' ? (keeper.catalog.partKinds.get(all.kind ?? '')?.identify ?? []) : [],
    photos: true,
  };
}

/** Fields on whose choice others depend. */
const TURNING: Readonly<Partial<Record<EntryKind, readonly string[]>>> = {
  fit: ['kind'],
  reading: ['part', 'what'],
  'trip-done': ['trip'],
};

/** A field of the schema as this kind of entry asks for it. */
function asked(kind: EntryKind, field: Field, known: Known): Field {
  if (kind === 'reading' && field.path === 'vehicle') return { ...field, required: true };
  if (TURNING[kind]?.includes(field.path)) return { ...field, turns: true };
  if (kind === 'trip') return tripField(field, known);
  if (kind === 'trip-done' && field.path === 'miles') return { ...field, label: 'Miles driven' };
  if (kind === 'enroll' && field.path === 'vin') return { ...field, decodes: 'vin' };
  if (kind === 'fit' && field.path === 'code' && known.kind !== undefined) return { ...field, decodes: known.kind };
  return field;
}

/** Names for machines are made from the others when nobody gave one; what belongs to a part is not asked of a vehicle, nor the other way round. */
const isHidden = (kind: EntryKind, path: string, known: Known): boolean =>
  (kind === 'trip' && path === 'trip') ||
  (kind === 'fit' && path === 'part') ||
  (kind === 'reading' && path === 'vehicle' && Boolean(known.part)) ||
  (kind === 'reading' && (path === 'temperature' || path === 'elevation') && !known.part);

/** What says which thing an entry is of: not asked again where it is known. */
const ABOUT: Readonly<Partial<Record<EntryKind, readonly string[]>>> = {
  fit: ['kind', 'part'],
  reading: ['part', 'what'],
  paper: ['part'],
  drill: ['upkeep', 'part'],
  trip: ['trip'],
  'trip-done': ['trip'],
};

/** What stands in the body without being asked for. */
function fixedOf(keeper: Keeper, kind: EntryKind, known: Known, all: Known): (readonly [string, unknown])[] {
  const fixed: (readonly [string, unknown])[] = (ABOUT[kind] ?? []).flatMap((path) =>
    known[path] === undefined ? [] : [[path, known[path]] as const],
  );
  if (kind === 'adjust') fixed.push(['what', 'odometer']);
  if (kind === 'reading' && !all.part) fixed.push(['what', 'odometer']);
  if (kind === 'trip' && known.trip !== undefined) {
    // No field asks for its stops: they stay as they were planned, unless a file tells others.
    const stops = tripsOf(keeper.state).find((trip) => trip.id === known.trip)?.plan.body.stops;
    if (stops) fixed.push(['stops', stops]);
  }
  return fixed;
}

function titleFor(told: Told, kind: EntryKind, known: Known): string {
  if (kind === 'reading' && known.part && known.what)
    return `${labelOf(readingName(known.what))} of the ${partName(told, known.part)}`;
  if (kind === 'paper' && known.part) return `${labelOf(partName(told, known.part))} renewed`;
  if (kind === 'drill' && known.upkeep) return told.catalog.upkeeps.get(known.upkeep)?.title ?? kindTitle('drill');
  if (kind === 'fit' && known.kind) return told.catalog.partKinds.get(known.kind)?.name ?? kindTitle('fit');
  const trip = tripsOf(told.state).find(({ id }) => id === known.trip)?.plan.body.name;
  if (trip !== undefined) return kind === 'trip-done' ? `${trip}: finished` : `${trip}: changed`;
  return kindTitle(kind);
}

function defaultOf(keeper: Keeper, kind: EntryKind, field: Field, known: Known): string {
  if (field.path === 'who') return keeper.by;
  if (field.path === 'outcome') return 'good';
  if (field.path === 'vehicle') return kind === 'fit' || kind === 'carry' ? '' : 'trailer';
  if (field.path === 'aboard') return 'true';
  if (kind === 'trip' && field.path === 'chance') return '1';
  if (kind === 'trip-done') {
    const trip = tripBack(keeper, known.trip);
    if (field.path === 'trip') return trip?.id ?? '';
    if (field.path === 'left') return trip?.plan.body.leave ?? keeper.today;
    if (field.path === 'back') return keeper.today;
  }
  return '';
}

/** The trip one is likeliest back from: the one chosen, or the newest that has left. */
function tripBack({ state, today }: Keeper, chosen: string | undefined) {
  const trips = tripsOf(state).filter(({ id, done }) => id === chosen || (!chosen && !done));
  return trips
    .filter(({ plan }) => plan.body.leave <= today && !plan.body.cancelled)
    .sort((a, b) => (a.plan.body.leave < b.plan.body.leave ? 1 : -1))[0];
}
