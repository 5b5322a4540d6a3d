import {
  type Catalog,
  type Clock,
  clockText,
  type OwnerSetting,
  type Upkeep,
  withOverrides,
} from '../../../catalog/index.ts';
import { partsOf, partWords, type SettingNames, settingsOf, settingWords } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import { dimensionOf, formatNumber, parseUnit, type Quantity, unitSymbol, unitsOf } from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';
import type { Choice } from './form-fields.ts';
import { toldBy } from './told.ts';

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
  /** No part is on record, so there is no upkeep either. */
  readonly bare: boolean;
  /** What the owner laid over the catalog. */
  readonly own: readonly { readonly key: string; readonly text: string }[];
  /** What of it does not hold, and why. */
  readonly problems: readonly Problem[];
}

/** What the owner laid over the catalog, by whatever words it stands in the logbook. */
export function handbookView(keeper: Keeper): HandbookView {
  const names = namesOf(keeper);
  return {
    bare: partsOf(keeper.state).length === 0,
    own: OVER_CATALOG.flatMap((kind) => ownOf(keeper, kind)).map(({ key, value }) => ({
      key,
      text: settingWords(key, value, names),
    })),
    problems: keeper.desk().catalogProblems,
  };
}

/** Upkeeps of the parts that are on the rig, each with its figures. */
export function handbookUpkeeps(keeper: Keeper): HandbookUpkeep[] {
  const { state } = keeper;
  // What the owner said of an interval is listed beside; upkeeps of their own are upkeeps like any other.
  const own = (['own-part-kind', 'own-upkeep'] as const).flatMap((kind) => ownOf(keeper, kind));
  const { catalog } = withOverrides(keeper.shipped, own);
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
  return upkeeps.sort((a, b) => (a.title < b.title ? -1 : 1));
}

/** Kinds of part on the rig, by their names. */
export const kindsThere = ({ state, catalog }: Keeper): Choice[] =>
  [...new Set(partsOf(state).map(({ kind }) => kind))]
    .map((kind) => ({ value: kind, label: catalog.partKinds.get(kind)?.name ?? kind.replaceAll('-', ' ') }))
    .sort((a, b) => (a.label < b.label ? -1 : 1));

export function namesOf(keeper: Keeper): SettingNames {
  const told = toldBy(keeper);
  const { catalog } = keeper;
  return {
    catalog,
    part: (id) => partWords(id, told),
    upkeep: (id) => catalog.upkeeps.get(id)?.title ?? id.replaceAll('-', ' '),
  };
}

const OVER_CATALOG = ['own-part-kind', 'own-upkeep', 'override'] as const;

/** What the owner laid over the catalog, of one kind. */
export const ownOf = ({ state }: Keeper, kind: (typeof OVER_CATALOG)[number]): OwnerSetting[] =>
  [...settingsOf(state, kind)].map(([about, value]) => ({ key: `${kind}/${about}`, value }));

/** What the catalog has against a setting laid over it beside all the others. */
export function againstOwn(keeper: Keeper, setting: OwnerSetting): readonly Problem[] {
  const others = OVER_CATALOG.flatMap((kind) => ownOf(keeper, kind)).filter(({ key }) => key !== setting.key);
  return withOverrides(keeper.shipped, [...others, setting]).problems.filter(
    ({ where }) => where === `setting ${setting.key}`,
  );
}

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

export function figuresOf(catalog: Catalog, upkeep: Upkeep): HandbookFigure[] {
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

export function rangeText(clock: Clock): string {
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

/** What a clock says without the owner's word, where it is one figure. */
export function usualOf(clock: Clock): number | Quantity | undefined {
  if (clock.kind === 'miles') return clock.every;
  if (clock.kind === 'months' || clock.kind === 'nights' || clock.kind === 'hours') return clock.every;
  if (clock.kind === 'age') return clock.by ?? clock.from;
  if (clock.kind === 'departure') return clock.withinDays;
  if (clock.kind === 'after') return clock.atMiles[0];
  if (clock.kind === 'limit') return clock.limit;
  return undefined;
}
