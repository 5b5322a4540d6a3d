import { type Chain, chainOf, newest, type RigState } from './fold.ts';
import type { Setting, SettingKey } from './setting-kinds.ts';

const of = (chain: Chain): unknown => newest(chain, 'set')?.body.value ?? undefined;

/** One setting, or undefined where the owner said nothing (or took it back). */
export function settingOf<K extends SettingKey>(state: RigState, key: K, about?: string): Setting<K> | undefined {
  const value = of(chainOf(state, `setting/${key}${about === undefined ? '' : `/${about}`}`, 'set'));
  return value === undefined ? undefined : (value as Setting<K>);
}

/** Every setting of a key that speaks of something: what it speaks of → its value. */
export function settingsOf<K extends SettingKey>(state: RigState, key: K): Map<string, Setting<K>> {
  const found = new Map<string, Setting<K>>();
  const prefix = `setting/${key}/`;
  for (const [name, subject] of state.subjects.under(prefix)) {
    const value = of(subject.get('set') ?? []);
    if (value !== undefined) found.set(name.slice(prefix.length), value as Setting<K>);
  }
  return found;
}
