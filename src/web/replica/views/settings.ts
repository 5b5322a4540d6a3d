import { settingOf, settingsOf } from '../../../logbook/index.ts';
import { APPETITES } from '../../../plan/index.ts';
import type { Keeper } from '../keeper.ts';

/** The owner's own figures as they stand; empty where nothing was said. */
export interface SettingsView {
  readonly units: 'us' | 'metric';
  readonly weekdays: readonly number[];
  readonly hours: number | null;
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
  const free = settingOf(state, 'free-days');
  return {
    units: settingOf(state, 'units') ?? 'us',
    weekdays: free?.weekdays ?? [],
    hours: free?.hours ?? null,
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
