import {
  type Catalog,
  type Clock,
  clockText,
  type OwnerSetting,
  type Upkeep,
  upkeepOfPart,
  withOverrides,
} from '../../../catalog/index.ts';
import { partsOf, partWords, type SettingNames, settingsOf, settingWords } from '../../../logbook/index.ts';
import { fail, ok, type Problem, type Result } from '../../../problem/index.ts';
import {
  convert,
  dimensionOf,
  formatNumber,
  parseUnit,
  type Quantity,
  unitSymbol,
  unitsOf,
} from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';
import type { Choice } from './form-fields.ts';
import { toldBy } from './go.ts';

/** One figure of an upkeep that the owner's handbook may give otherwise. */
export interface HandbookFigure {
  readonly id: string;
  readonly label: string;
  /** As it holds without the owner's word: `every 12,000 mi`. */
  readonly usual: string;
  /** What its sources lie between; empty where they agree or there is one. */
  readonly range: string;
  readonly source: string;
  readonly units: readonly Choice[];
}

export interface HandbookUpkeep {
  readonly id: string;
  readonly title: string;
  readonly parts: readonly Choice[];
  readonly figures: readonly HandbookFigure[];
}

export interface HandbookView {
  readonly upkeeps: readonly HandbookUpkeep[];
  /** Kinds of part on the rig. */
  readonly kinds: readonly Choice[];
  /** What the owner laid over the catalog. */
  readonly own: readonly { readonly key: string; readonly text: string }[];
  /** What of it does not hold, and why. */
  readonly problems: readonly Problem[];
}

export interface OverrideAsk {
  readonly upkeep: string;
  readonly figure: string;
  /** Empty: every part of the kind. */
  readonly part: string;
  readonly value: string;
  readonly unit: string;
  readonly source: string;
}

/** An own figure ready to be written, with what is odd about it. */
export interface OverrideReady {
  readonly key: string;
  readonly value: unknown;
  readonly said: string;
  /** Empty where the figure is like those of our sources. */
  readonly odd: string;
}

/** Figures of the upkeeps of the parts that are on the rig. */
export function handbookView(keeper: Keeper): HandbookView {
  const { state } = keeper;
  // What the owner said of an interval is listed beside; upkeeps of their own are upkeeps like any other.
  const { catalog } = withOverrides(keeper.catalog, ownUpkeeps(keeper));
  const told = toldBy(keeper);
  const parts = partsOf(state);
  const kinds = [...new Set(parts.map(({ kind }) => kind))];
  const upkeeps = kinds.flatMap((kind) =>
    (catalog.upkeepsOf.get(kind) ?? []).map((upkeep) => ({
      id: upkeep.id,
      title: upkeep.title,
      parts: parts
        .filter((part) => part.kind === kind)
        .map((part) => ({ value: part.id, label: partWords(part.id, told) })),
      figures: figuresOf(catalog, upkeep),
    })),
  );
  const names = namesOf(keeper);
  return {
    upkeeps: upkeeps.sort((a, b) => (a.title < b.title ? -1 : 1)),
    kinds: kinds
      .map((kind) => ({ value: kind, label: catalog.partKinds.get(kind)?.name ?? kind.replaceAll('-', ' ') }))
      .sort((a, b) => (a.label < b.label ? -1 : 1)),
    own: [...ownSettings(keeper), ...ownUpkeeps(keeper)].map(({ key, value }) => ({
      key,
      text: settingWords(key, value, names),
    })),
    problems: keeper.desk().catalogProblems,
  };
}

function namesOf(keeper: Keeper): SettingNames {
  const told = toldBy(keeper);
  const { catalog } = keeper;
  return {
    catalog,
    part: (id) => partWords(id, told),
    upkeep: (id) => catalog.upkeeps.get(id)?.title ?? id.replaceAll('-', ' '),
  };
}

const ownSettings = ({ state }: Keeper): OwnerSetting[] =>
  [...settingsOf(state, 'override')].map(([about, value]) => ({ key: `override/${about}`, value }));

const ownUpkeeps = ({ state }: Keeper): OwnerSetting[] =>
  [...settingsOf(state, 'own-upkeep')].map(([about, value]) => ({ key: `own-upkeep/${about}`, value }));

const LABELS: Readonly<Partial<Record<Clock['kind'], string>>> = {
  miles: 'Every so many miles',
  months: 'Every so many months',
  nights: 'Every so many nights in use',
  hours: 'Every so many hours',
  age: 'Age by which it is renewed',
  departure: 'Days before leaving that a look is good for',
  after: 'Miles after the work it follows',
  limit: 'Limit of the reading',
};

const choices = (units: readonly string[]): Choice[] => units.map((unit) => ({ value: unit, label: unit }));

function figuresOf(catalog: Catalog, upkeep: Upkeep): HandbookFigure[] {
  const clocks = upkeep.clocks.flatMap((clock): HandbookFigure[] => {
    const label = LABELS[clock.kind];
    const units = unitsOfClock(upkeep, clock);
    if (label === undefined || units === null) return [];
    return [
      {
        id: clock.kind,
        label,
        usual: clockText(clock),
        range: rangeText(clock),
        source: catalog.sources.get(clock.source)?.title ?? clock.source,
        units: choices(units),
      },
    ];
  });
  const minutes = {
    id: 'minutes',
    label: 'How long it takes you',
    usual: `${formatNumber(upkeep.minutes, 0)} min, an estimate for one practised owner`,
    range: '',
    source: '',
    units: choices(['min']),
  };
  return [...clocks, minutes];
}

function rangeText(clock: Clock): string {
  if (clock.range === undefined) return '';
  const usual = usualOf(clock);
  const unit = typeof usual === 'object' ? unitSymbol(usual.unit) : clock.kind === 'departure' ? 'days' : clock.kind;
  const [least, most] = clock.range.map((end) => formatNumber(end, 1));
  return `${least} to ${most} ${unit === 'age' ? 'months' : unit}`;
}

/** In what a figure of this clock can be given, the catalog's own first; null where it has no single figure. */
function unitsOfClock(upkeep: Upkeep, clock: Clock): string[] | null {
  switch (clock.kind) {
    case 'miles':
      return ['mi', 'km'];
    case 'months':
      return ['months', 'years'];
    case 'nights':
      return ['nights'];
    case 'hours':
      return ['hours'];
    case 'age':
      return clock.label === 'required' ? null : ['years', 'months'];
    case 'departure':
      return ['days'];
    case 'after':
      return clock.atMiles.length === 0 ? null : ['mi', 'km'];
    case 'season':
      return null;
    case 'limit': {
      const reading = upkeep.readings.find(({ what }) => what === clock.reading);
      const unit = reading && parseUnit(reading.unit);
      if (!unit?.ok) return null;
      return [unit.value, ...unitsOf(dimensionOf(unit.value)).filter((other) => other !== unit.value)].map(
        (id) => unitSymbol(id) || id,
      );
    }
  }
}

/** A figure as its unit means it: months for years, plain numbers otherwise. */
const MONTHS_A_YEAR = 12;
/** Further from what the trade says than by this factor, a figure is asked about. */
const FAR = 2;

/**
 * The owner's figure as a setting. Problems: `handbook.figure` (not a number above zero), `handbook.source`, and whatever the catalog
 * has against it.
 */
export function overrideOf(keeper: Keeper, ask: OverrideAsk): Result<OverrideReady> {
  const upkeep = upkeepOfPart(keeper.catalog, ask.upkeep, ask.part);
  const figure = upkeep && figuresOf(keeper.catalog, upkeep).find(({ id }) => id === ask.figure);
  if (upkeep === undefined || figure === undefined)
    return fail({ code: 'handbook.figure', what: 'Choose an upkeep and one of its figures', where: 'figure' });
  const numbers = ask.value.split(/[,;]\s+|\s+/).map((text) => Number(text.replaceAll(',', '')));
  const single = ask.figure !== 'after';
  if (ask.value.trim() === '' || numbers.some((number) => !(number > 0)) || (single && numbers.length > 1)) {
    const expected = single ? 'a number above 0' : 'numbers above 0, such as 10 25 50';
    return fail({ code: 'handbook.figure', what: `“${ask.value}” is no figure for this`, where: 'value', expected });
  }
  if (ask.source.trim() === '')
    return fail({
      code: 'handbook.source',
      what: 'Say where it comes from',
      where: 'source',
      expected: 'a handbook and its page, or whose practice it is',
    });
  const key = keyOf(keeper, upkeep.id, ask);
  const value = {
    upkeep: upkeep.id,
    ...(ask.part === '' ? {} : { part: ask.part }),
    ...figuresAsked(upkeep, ask, numbers),
    source: ask.source.trim(),
  };
  const others = ownSettings(keeper).filter((one) => one.key !== key);
  const against = withOverrides(keeper.catalog, [...others, { key, value }]).problems.filter(
    ({ where }) => where === `setting ${key}`,
  );
  const [first, ...more] = against;
  if (first !== undefined) return fail(first, ...more);
  return ok({ key, value, said: settingWords(key, value, namesOf(keeper)), odd: oddness(upkeep, ask, numbers[0]!) });
}

/** The key under which this figure stands already, whoever chose it; else one that says what it is about. */
function keyOf(keeper: Keeper, upkeep: string, { figure, part }: OverrideAsk): string {
  const same = ownSettings(keeper).find(({ value }) => {
    const one = value as Readonly<Record<string, unknown>>;
    return one.upkeep === upkeep && (one.part ?? '') === part && (one.clock ?? 'minutes') === figure;
  });
  return same?.key ?? ['override', upkeep, figure, ...(part === '' ? [] : [part])].join('/');
}

const withUnit = (number: number, unit: string): string => `${formatNumber(number, 6)} ${unit}`;

function figuresAsked(upkeep: Upkeep, { figure, unit }: OverrideAsk, numbers: readonly number[]) {
  const [number] = numbers as [number, ...number[]];
  const months = unit === 'years' ? number * MONTHS_A_YEAR : number;
  const clock = upkeep.clocks.find(({ kind }) => kind === figure);
  switch (figure) {
    case 'minutes':
      return { minutes: number };
    case 'miles':
      return { clock: figure, every: withUnit(number, unit) };
    case 'months':
      return { clock: figure, every: months };
    case 'age':
      // What is worth renewing only later than it must be says nothing: the earlier of the two holds.
      return {
        clock: figure,
        by: months,
        ...(clock?.kind === 'age' && (clock.from ?? 0) > months ? { from: months } : {}),
      };
    case 'departure':
      return { clock: figure, withinDays: number };
    case 'after':
      return { clock: figure, atMiles: numbers.map((mile) => withUnit(mile, unit)) };
    case 'limit':
      return { clock: figure, limit: withUnit(number, unit) };
    default:
      return { clock: figure, every: number };
  }
}

/** Whether a figure is far from what our sources say, so that a slip of a digit or a unit is seen. */
function oddness(upkeep: Upkeep, { figure, unit }: OverrideAsk, number: number): string {
  const clock = upkeep.clocks.find(({ kind }) => kind === figure);
  const usual = clock === undefined ? undefined : usualOf(clock);
  if (clock === undefined || usual === undefined) return '';
  const asked = unit === 'years' ? number * MONTHS_A_YEAR : inUnit(number, unit, usual);
  const plain = typeof usual === 'number' ? usual : usual.value;
  const [least, most] = clock.range ?? [plain / FAR, plain * FAR];
  if (asked === undefined || (asked >= least && asked <= most)) return '';
  const which = asked > most ? 'more' : 'less';
  return clock.range === undefined
    ? `That is ${which} than half or twice what the trade says (${clockText(clock)}). Is the unit right?`
    : `That is ${which} than any source here says (${rangeText(clock)}). Is the unit right?`;
}

function usualOf(clock: Clock): number | Quantity | undefined {
  if (clock.kind === 'miles') return clock.every;
  if (clock.kind === 'months' || clock.kind === 'nights' || clock.kind === 'hours') return clock.every;
  if (clock.kind === 'age') return clock.by ?? clock.from;
  if (clock.kind === 'departure') return clock.withinDays;
  if (clock.kind === 'after') return clock.atMiles[0];
  if (clock.kind === 'limit') return clock.limit;
  return undefined;
}

function inUnit(number: number, unit: string, usual: number | Quantity): number | undefined {
  if (typeof usual === 'number') return number;
  const read = parseUnit(unit);
  return read.ok ? convert({ value: number, unit: read.value }, usual.unit).value : undefined;
}
