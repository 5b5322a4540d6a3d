import * as z from 'zod/mini';
import type { Problem } from '../problem/index.ts';
import type { Entry } from './entry.ts';

/**
 * The owner's own figures, each a `set` entry whose `key` is one of these; the newest holds, `null` takes it back. Keys with a
 * `/` carry what they speak of after it: `day/2026-06-06`, `override/repack-bearings`.
 */
export const settingSchemas = {
  /** Days of the week one can work at home (0 Sunday … 6 Saturday), and for how many hours; `hoursOn`: on a day other than usual. */
  'free-days': z.strictObject({
    weekdays: z.array(z.int().check(z.gte(0), z.lte(6))),
    hours: z.number().check(z.gt(0), z.lte(24)),
    hoursOn: z.exactOptional(
      z.partialRecord(z.enum(['0', '1', '2', '3', '4', '5', '6']), z.number().check(z.gt(0), z.lte(24))),
    ),
  }),
  /** One day, other than the rule: hours free on it, 0 for none. */
  day: z.strictObject({ hours: z.number().check(z.gte(0), z.lte(24)) }),
  'hourly-value': z.number().check(z.nonnegative()),
  /** What opening a yard day costs before any work is done (fetching tools, an afternoon gone). */
  'day-cost': z.number().check(z.nonnegative()),
  appetite: z.enum(['fewest afternoons', 'least money', 'least risk on the road']),
  /** Greatest accepted chance of running out before the return, by severity: `alpha/safety`. */
  alpha: z.number().check(z.gt(0), z.lt(1)),
  units: z.enum(['us', 'metric']),
  /** Month and day of the first freeze to be expected at home, and of the last. */
  'first-freeze': z.string().check(z.regex(/^\d{2}-\d{2}$/)),
  'last-freeze': z.string().check(z.regex(/^\d{2}-\d{2}$/)),
  /** A fact of the rig from its maker's handbook that has no safe default: `fact/jacking-point`. */
  fact: z.union([z.string(), z.number()]),
  /** A job pinned to a day (`pin/UPKEEP.PART`), or kept off it. */
  pin: z.strictObject({ day: z.string(), how: z.enum(['on', 'not on']) }),
  /** The owner's handbook outranks the catalog: another interval or limit. Read by the catalog room. */
  override: z.looseObject({ source: z.string() }),
  'own-upkeep': z.looseObject({ title: z.string() }),
  'own-part-kind': z.looseObject({ name: z.string() }),
  /** Speed the owner keeps to on the road. */
  'speed-max': z.strictObject({ value: z.number().check(z.gt(0)), unit: z.enum(['mph', 'km/h']) }),
  /** Names and numbers to call at the roadside. */
  call: z.strictObject({ name: z.string(), number: z.string() }),
  /** What the owner decided about an entry that was set aside as one that cannot be true: `quarantine/ID`, the id in small letters. */
  quarantine: z.enum(['release', 'reject']),
} as const;

export type SettingKey = keyof typeof settingSchemas;
export type Setting<K extends SettingKey> = z.infer<(typeof settingSchemas)[K]>;

/** The setting a key begins with, where it is one of ours: `override` of `override/repack-bearings`. */
export function settingKind(key: string): SettingKey | undefined {
  const kind = key.split('/', 1)[0]!;
  return Object.hasOwn(settingSchemas, kind) ? (kind as SettingKey) : undefined;
}

/** What is wrong with the value of a setting we know. Problems: `logbook.setting-value`. */
export function settingProblems(entry: Entry, where: string): Problem[] {
  if (entry.kind !== 'set' || entry.body.value === null) return [];
  const kind = settingKind(entry.body.key);
  const read = kind && settingSchemas[kind].safeParse(entry.body.value);
  if (!read || read.success) return [];
  return read.error.issues.map((issue) => ({
    code: 'logbook.setting-value',
    what: `${entry.body.key}: ${issue.message}`,
    where: `${where}: ${['value', ...issue.path].join('.')}`,
  }));
}
