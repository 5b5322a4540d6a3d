import type { Catalog } from '../catalog/index.ts';
import { formatDate } from '../dates/index.ts';
import { formatNumber } from '../quantity/index.ts';
import { type Setting, type SettingKey, settingKind, settingSchemas } from './setting-kinds.ts';

const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
const MONTHS = 'January February March April May June July August September October November December'.split(' ');

/** Names of what a setting speaks of. */
export interface SettingNames {
  readonly catalog: Catalog;
  part(id: string): string;
  upkeep(id: string): string;
}

/** One of the owner's own figures in plain words: `Speed kept to: 60 mph`, `Repack the wheel bearings: every 6,000 mi (Axle handbook, page 14)`. */
export function settingWords(key: string, value: unknown, names: SettingNames): string {
  const about = key.split('/').slice(1).join('/');
  const kind = settingKind(key);
  const topic = kind === undefined ? `Own figure ${key}` : TOPICS[kind](about, names);
  if (value === null) return `${topic}: taken back`;
  // A newer program may have written what this one does not know: it is told as it stands.
  const read = kind && settingSchemas[kind].safeParse(value);
  const say = kind && (SAID[kind] as ((value: unknown, names: SettingNames) => string) | undefined);
  return `${topic}: ${read?.success && say ? say(read.data, names) : JSON.stringify(value)}`;
}

const fact = (id: string, { catalog }: SettingNames): string => {
  const kind = /^absent-(.+)$/.exec(id)?.[1];
  if (kind !== undefined) return catalog.partKinds.get(kind)?.name ?? kind.replaceAll('-', ' ');
  const known = catalog.rigFacts?.get(id);
  return known ? `${known.title}${known.unit ? ` (${known.unit})` : ''}` : id.replaceAll('-', ' ');
};

const job = (item: string, names: SettingNames): string => {
  const [upkeep = item, part] = item.split('.');
  return part === undefined ? names.upkeep(upkeep) : `${names.upkeep(upkeep)}, ${names.part(part)}`;
};

/** What a setting is about. */
const TOPICS: Readonly<Record<SettingKey, (about: string, names: SettingNames) => string>> = {
  'free-days': () => 'Free at home',
  day: (date) => `Free on ${/^\d{4}-\d{2}-\d{2}$/.test(date) ? formatDate(date, 'day') : date}`,
  'hourly-value': () => 'An hour of own work, in money',
  'day-cost': () => 'Opening a yard day, in money',
  appetite: () => 'What the plan should spare',
  alpha: (severity) => `Chance accepted of running out on a trip, ${severity}`,
  units: () => 'Units',
  'first-freeze': () => 'First freeze at home',
  'last-freeze': () => 'Last freeze at home',
  fact,
  pin: (item, names) => `Put by hand: ${job(item, names)}`,
  override: (about, names) => names.upkeep(about.split('/')[0]!),
  'own-upkeep': (id) => `Own upkeep ${id.replaceAll('-', ' ')}`,
  'own-part-kind': (id) => `Own kind of part ${id.replaceAll('-', ' ')}`,
  'speed-max': () => 'Speed kept to',
  call: (id) => `Whom to call, ${id.replaceAll('-', ' ')}`,
  quarantine: (id) => `Entry set aside, ${id.toUpperCase()}`,
};

const hours = (count: number): string => `${formatNumber(count, 2)} h`;
const monthDay = (text: string): string => `${Number(text.slice(3))} ${MONTHS[Number(text.slice(0, 2)) - 1] ?? text}`;
const figure = (value: unknown): string => {
  if (typeof value === 'number') return formatNumber(value, 2);
  if (Array.isArray(value)) return value.map(figure).join(', ');
  if (typeof value !== 'object' || value === null) return String(value);
  const { value: number, unit } = value as { value?: unknown; unit?: unknown };
  return typeof number === 'number' ? `${formatNumber(number, 2)} ${unit}` : JSON.stringify(value);
};

const OVERRIDDEN: Readonly<Record<string, (value: Readonly<Record<string, unknown>>) => string>> = {
  miles: ({ every }) => `every ${figure(every)}`,
  months: ({ every }) => `every ${figure(every)} months`,
  nights: ({ every }) => `every ${figure(every)} nights in use`,
  hours: ({ every }) => `every ${figure(every)} hours`,
  age: ({ by, from }) => `by ${figure(by ?? from)} months of age`,
  departure: ({ withinDays }) => `within ${figure(withinDays)} days before leaving`,
  after: ({ atMiles, atDays }) =>
    atMiles === undefined ? `${figure(atDays)} days after` : `at ${figure(atMiles)} after`,
  limit: ({ limit }) => `limit ${figure(limit)}`,
};

function overrideWords(value: Setting<'override'>, names: SettingNames): string {
  const { clock, off, minutes, part, source, steps, cautions } = value as Readonly<Record<string, unknown>>;
  const clocked = Object.hasOwn(OVERRIDDEN, String(clock)) ? OVERRIDDEN[String(clock)] : undefined;
  const told = [
    off === true ? `not by ${String(clock)}` : clocked?.(value as Readonly<Record<string, unknown>>),
    minutes !== undefined && `takes ${figure(minutes)} min`,
    steps !== undefined && 'own steps',
    cautions !== undefined && 'more cautions',
  ].filter(Boolean);
  const where = typeof part === 'string' ? `, ${names.part(part)}` : '';
  return `${told.length > 0 ? told.join(', ') : JSON.stringify(value)}${where} (${String(source)})`;
}

/** What it says, where more than the value itself is to be said. */
const SAID: { readonly [K in SettingKey]?: (value: Setting<K>, names: SettingNames) => string } = {
  'free-days': ({ weekdays, hours: usual, hoursOn }) =>
    weekdays.length === 0
      ? 'on no day of the week'
      : weekdays.map((day) => `${WEEKDAYS[day]} ${hours(hoursOn?.[`${day}` as '0'] ?? usual)}`).join(', '),
  day: ({ hours: count }) => (count === 0 ? 'not at all' : hours(count)),
  'hourly-value': figure,
  'day-cost': figure,
  appetite: String,
  alpha: (chance) => `${formatNumber(chance * 100, 1)} %`,
  units: (system) => (system === 'us' ? 'US customary' : 'metric'),
  'first-freeze': monthDay,
  'last-freeze': monthDay,
  fact: String,
  pin: ({ day, how }) => `${how === 'on' ? 'on' : 'not on'} ${formatDate(day, 'day')}`,
  override: overrideWords,
  'own-upkeep': ({ title }) => title,
  'own-part-kind': ({ name }) => name,
  'speed-max': ({ value, unit }) => `${formatNumber(value, 1)} ${unit}`,
  call: ({ name, number }) => `${name}, ${number}`,
  quarantine: (decision) => (decision === 'release' ? 'it counts all the same' : 'it does not count'),
};
