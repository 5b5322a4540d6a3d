import type { Entry } from './entry.ts';

const SHARDS = 256;

/** Which shard: from the last two characters of the ULID, its most random ones. */
function shardOf(id: string): number {
  return (id.charCodeAt(id.length - 1) * 31 + id.charCodeAt(id.length - 2)) % SHARDS;
}

/**
 * Entries by id, never changed in place. One more entry copies one shard, not the whole: a plain `Map` of twenty thousand
 * entries takes longer to copy than everything else that one entry causes.
 */
export class EntryIndex {
  readonly size: number;
  readonly #shards: readonly ReadonlyMap<string, Entry>[];

  private constructor(shards: readonly ReadonlyMap<string, Entry>[], size: number) {
    this.#shards = shards;
    this.size = size;
  }

  static of(entries: Iterable<Entry>): EntryIndex {
    const shards = Array.from({ length: SHARDS }, () => new Map<string, Entry>());
    let size = 0;
    for (const entry of entries) {
      const shard = shards[shardOf(entry.id)]!;
      if (!shard.has(entry.id)) size++;
      shard.set(entry.id, entry);
    }
    return new EntryIndex(shards, size);
  }

  get(id: string): Entry | undefined {
    return this.#shards[shardOf(id)]!.get(id);
  }

  has(id: string): boolean {
    return this.#shards[shardOf(id)]!.has(id);
  }

  /** With one more entry; the entry must not be there yet. */
  with(entry: Entry): EntryIndex {
    const at = shardOf(entry.id);
    const shards = this.#shards.with(at, new Map(this.#shards[at]!).set(entry.id, entry));
    return new EntryIndex(shards, this.size + 1);
  }

  *values(): Generator<Entry> {
    for (const shard of this.#shards) yield* shard.values();
  }

  /** Ids in the order of their instants: the order of an export. */
  inOrder(): Entry[] {
    return [...this.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  }
}
