import type { Entry } from './entry.ts';

type Shard = ReadonlyMap<string, Entry>;
type Group = readonly Shard[];

/** Digits of a ULID that choose a shard, and how many characters from `0` on they lie within. */
const DIGITS = 43;
const FIRST = '0'.charCodeAt(0);
/** They stand for all that are empty, and are never written to. */
const NO_SHARD: Shard = new Map();
const NO_GROUP: Group = Array.from({ length: DIGITS }, () => NO_SHARD);

const digit = (id: string, fromEnd: number): number => (id.charCodeAt(id.length - fromEnd) - FIRST) % DIGITS;

/**
 * Entries by id, never changed in place. They lie in shards by the last two characters of their ids, a ULID's most random ones. One
 * more entry copies one shard and the two short lists that lead to it, not the whole: a plain `Map` of twenty thousand entries takes
 * longer to copy than everything else that one entry causes.
 */
export class EntryIndex {
  readonly size: number;
  readonly #groups: readonly Group[];

  private constructor(groups: readonly Group[], size: number) {
    this.#groups = groups;
    this.size = size;
  }

  static of(entries: Iterable<Entry>): EntryIndex {
    const groups = Array.from({ length: DIGITS }, () => new Map<number, Map<string, Entry>>());
    let size = 0;
    for (const entry of entries) {
      const group = groups[digit(entry.id, 1)]!;
      const at = digit(entry.id, 2);
      const shard = group.get(at) ?? new Map<string, Entry>();
      if (shard.size === 0) group.set(at, shard);
      if (!shard.has(entry.id)) size++;
      shard.set(entry.id, entry);
    }
    return new EntryIndex(
      groups.map((group) => (group.size ? NO_GROUP.map((none, at) => group.get(at) ?? none) : NO_GROUP)),
      size,
    );
  }

  get(id: string): Entry | undefined {
    return this.#groups[digit(id, 1)]![digit(id, 2)]!.get(id);
  }

  has(id: string): boolean {
    return this.#groups[digit(id, 1)]![digit(id, 2)]!.has(id);
  }

  /** With one more entry; the entry must not be there yet. */
  with(entry: Entry): EntryIndex {
    const [first, second] = [digit(entry.id, 1), digit(entry.id, 2)];
    const group = this.#groups[first]!;
    const shard = new Map(group[second]!).set(entry.id, entry);
    return new EntryIndex(this.#groups.with(first, group.with(second, shard)), this.size + 1);
  }

  *values(): Generator<Entry> {
    for (const group of this.#groups) for (const shard of group) yield* shard.values();
  }

  /** Ids in the order of their instants: the order of an export. */
  inOrder(): Entry[] {
    return [...this.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  }
}
