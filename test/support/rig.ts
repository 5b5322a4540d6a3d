import type { Catalog, Clock, PartKind, SetUp, Source, Upkeep } from '../../src/catalog/index.ts';
import {
  type Draft,
  type Entry,
  type EntryKind,
  type EntryOf,
  foldEntries,
  type RigState,
} from '../../src/logbook/index.ts';
import { idNumber } from './keeping.ts';

/** Writes the lines of an invented logbook, each with an id of its own, in order. */
export class Pen {
  readonly entries: Entry[] = [];
  #n = 0;

  write<K extends EntryKind>(kind: K, on: string, body: EntryOf<K>['body'], by = 'Ada'): Entry {
    this.#n++;
    const entry = {
      id: idNumber(this.#n),
      rig: 'test-rig',
      kind,
      on,
      at: `${on}T12:00:00Z`,
      by,
      v: 1,
      body,
    } as unknown as Entry;
    this.entries.push(entry);
    return entry;
  }

  draft({ kind, on, body }: Draft): Entry {
    return this.write(kind, on, body as never);
  }

  state(through?: string): RigState {
    return foldEntries(this.entries, through);
  }
}

export const mi = (value: number) => ({ value, unit: 'mi' as const });
export const psi = (value: number) => ({ value, unit: 'psi' as const });

const source: Source = { id: 'practice', kind: 'common practice', title: 'Common practice', seen: 'memory' };

/** A part kind with nothing special about it. */
export function partKind(id: string, more: Partial<PartKind> = {}): PartKind {
  return {
    id,
    name: id.replaceAll('-', ' '),
    group: 'running gear',
    vehicle: 'trailer',
    per: 'each',
    identify: [],
    facts: {},
    ...more,
  };
}

/** An upkeep with nothing special about it. */
export function upkeep(id: string, part: string, clocks: readonly Clock[], more: Partial<Upkeep> = {}): Upkeep {
  return {
    id,
    title: id.replaceAll('-', ' '),
    part,
    why: 'For the test.',
    severity: 'safety',
    clocks,
    restores: true,
    covers: [],
    setups: [],
    goesAfter: [],
    minutes: 30,
    skill: 'owner',
    place: 'home',
    failure: { cost: 500, steepness: 2, consequence: 'It breaks' },
    tools: [],
    consumables: [],
    steps: [],
    cautions: [],
    readings: [],
    look: 'Look at it.',
    ...more,
  };
}

/** A catalog of just these things, as a loaded one would be. */
export function catalogOf(
  parts: readonly PartKind[],
  upkeeps: readonly Upkeep[],
  setups: readonly SetUp[] = [],
): Catalog {
  const byId = <T extends { readonly id: string }>(things: readonly T[]): Map<string, T> =>
    new Map(things.map((thing) => [thing.id, thing]));
  return {
    sources: byId([source]),
    partKinds: byId(parts),
    setups: byId(setups),
    upkeeps: byId(upkeeps),
    upkeepsOf: new Map(parts.map((part) => [part.id, upkeeps.filter((duty) => duty.part === part.id)])),
    mishaps: new Map(),
    kit: new Map(),
    limits: new Map(),
    hazards: new Map(),
  };
}
