import { formatDate } from '../../../dates/index.ts';
import { settingOf, settingsOf } from '../../../logbook/index.ts';
import { APPETITES } from '../../../plan/index.ts';
import type { Keeper } from '../keeper.ts';
import { weekText } from './own-figures.ts';

/** The owner's own figures as they stand; empty where nothing was said. */
export interface SettingsView {
  readonly units: 'us' | 'metric';
  /** Hours free in a usual week: `Sat 8 h, Sun 8 h`; empty for none. */
  readonly week: string;
  /** False where the plan works with a guess. */
  readonly weekdaysSaid: boolean;
  /** Single days other than the rule, from today on. */
  readonly days: readonly { readonly key: string; readonly text: string; readonly hours: number }[];
  /** How many figures of the owner's own are laid over the catalog. */
  readonly overrides: number;
  readonly speedMax: { readonly value: number; readonly unit: 'mph' | 'km/h' } | null;
  readonly hourlyValue: number | null;
  readonly dayCost: number | null;
  readonly appetite: string;
  /** What each appetite makes of the owner's figures. */
  readonly appetites: readonly { readonly id: string; readonly day: number; readonly risk: number }[];
  readonly alpha: Readonly<Record<string, number>>;
  readonly firstFreeze: string;
  readonly lastFreeze: string;
  readonly calls: readonly { readonly key: string; readonly name: string; readonly number: string }[];
  readonly facts: readonly {
    readonly id: string;
    readonly title: string;
    readonly ask: string;
    readonly why: string;
    readonly value: string;
    readonly disagree: readonly string[];
  }[];
}

export function settingsView(keeper: Keeper): SettingsView {
  const { state, catalog } = keeper;
  return {
    units: settingOf(state, 'units') ?? 'us',
    week: weekText(keeper),
    weekdaysSaid: settingOf(state, 'free-days') !== undefined,
    days: [...settingsOf(state, 'day')]
      .filter(([date]) => date >= keeper.today)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([date, { hours }]) => ({ key: date, text: formatDate(date, 'short'), hours })),
    overrides:
      settingsOf(state, 'override').size +
      settingsOf(state, 'own-upkeep').size +
      settingsOf(state, 'own-part-kind').size,
    speedMax: settingOf(state, 'speed-max') ?? null,
    hourlyValue: settingOf(state, 'hourly-value') ?? null,
    dayCost: settingOf(state, 'day-cost') ?? null,
    appetite: settingOf(state, 'appetite') ?? '',
    appetites: Object.entries(APPETITES).map(([id, factors]) => ({ id, ...factors })),
    alpha: Object.fromEntries(settingsOf(state, 'alpha')),
    firstFreeze: settingOf(state, 'first-freeze') ?? '',
    lastFreeze: settingOf(state, 'last-freeze') ?? '',
    calls: [...settingsOf(state, 'call')].map(([key, call]) => ({ key, ...call })),
    facts: [...(catalog.rigFacts?.values() ?? [])].map((fact) => ({
      ...{ id: fact.id, title: fact.unit ? `${fact.title} (${fact.unit})` : fact.title, ask: fact.ask, why: fact.why },
      value: String(settingOf(state, 'fact', fact.id) ?? ''),
      disagree: fact.disagree.map((one) => `${one.says} (${catalog.sources.get(one.source)?.title ?? one.source})`),
    })),
  };
}
