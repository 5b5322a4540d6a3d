import type { Problem, Result } from '../problem/index.ts';
import type { Entry } from './entry.ts';
import { foldEntries, type Unread } from './fold.ts';
import { type Judge, judgeAlone } from './judge.ts';
import { needsNewerVersion, readEntry, writeEntry } from './read.ts';

/** A record of a logbook as it lies in a store or comes over the wire, that does not count as an entry. */
export interface RecordAside {
  /** Where it stood among the records that were sorted, from 0. */
  readonly index: number;
  /** Its id, where it has one that an entry could have. Without one it cannot be told from others by id. */
  readonly id: string | null;
  /** As it came, the very value. */
  readonly raw: unknown;
  /** At least one. */
  readonly problems: readonly Problem[];
}

/** A record that is no entry, or an entry that cannot be true. */
export interface DoubtfulRecord extends RecordAside {
  /** The entry, where it can be read as one. */
  readonly entry?: Entry;
  /** True where `set quarantine/ID release` would let it count. */
  readonly releasable: boolean;
  /** What the owner decided. */
  readonly decision?: 'release' | 'reject';
  /** True where it costs more than an entry may (size, depth, count): a door may refuse to keep it at all. */
  readonly costly: boolean;
}

/** Records sorted. Every record stands in exactly one of the three; none is dropped. */
export interface SortedRecords {
  /** Entries that count (or are struck), in the order in which they came; those the owner released among them. */
  readonly entries: readonly Entry[];
  /** Written by a newer version: to be kept as they are, passed on, counted, and sorted again after an update. */
  readonly newer: readonly RecordAside[];
  /** To be kept as they are, and shown to the owner, who may release or reject them. */
  readonly doubtful: readonly DoubtfulRecord[];
}

const ULID = /^[0-7][0-9A-HJKMNP-TV-Z]{25}$/;
/** The kind a record says it is of, where it says so in words. */
const saysKind = (raw: unknown): boolean => typeof (raw as { kind?: unknown } | null)?.kind === 'string';
const idOf = (raw: unknown): string | null => {
  const id = typeof raw === 'object' && raw !== null ? (raw as { id?: unknown }).id : undefined;
  return typeof id === 'string' && ULID.test(id) ? id : null;
};

/**
 * Sorts raw records (values read from JSON, of one rig) into entries that count, those that need a newer version, and those that cannot
 * be true. It depends on the set of records alone, not on the day or the device, nor on their order but where two differ under one id:
 * there the first counts.
 *
 * The fold sets aside by the same judge (`RigState.aside`): whoever folds every readable entry with `judge` gets the same state. So one may
 * fold `entries` alone, or `entries` and each doubtful record's `entry`; only the latter follows a later decision without sorting again.
 *
 * The owner's decision is an entry like any other: `set` with key `quarantineKey(id)` and value `release`, `reject` or null (undecided
 * again). A strike of the record does what `reject` does, and moves it to `entries`, struck.
 *
 * @param judge by the catalog at hand: `judgeBy(catalog)`
 */
export function sortRecords(records: Iterable<unknown>, judge: Judge = judgeAlone): SortedRecords {
  const reads = [...records].map((raw, index): { readonly raw: unknown; readonly read: Result<Entry> } => ({
    raw,
    read: readEntry(raw, idOf(raw) ?? `record ${index + 1}`),
  }));
  const { aside } = foldEntries(
    reads.flatMap(({ read }) => (read.ok ? [read.value] : [])),
    undefined,
    judge,
  );
  const first = new Map<string, Entry>();
  const entries: Entry[] = [];
  const newer: RecordAside[] = [];
  const doubtful: DoubtfulRecord[] = [];
  for (const [index, { raw, read }] of reads.entries()) {
    const id = idOf(raw);
    if (!read.ok) {
      const { problems } = read;
      const record = { index, id, raw, problems };
      const costly = problems.some(({ code }) => code === 'logbook.entry-cost');
      if (id !== null && saysKind(raw) && needsNewerVersion(problems)) newer.push(record);
      else doubtful.push({ ...record, releasable: false, costly });
      continue;
    }
    const same = first.get(read.value.id);
    const set = aside.get(read.value.id);
    if (same && writeEntry(same) !== writeEntry(read.value)) {
      const what = `Another entry already has the id ${read.value.id}`;
      const problems = [
        { code: 'logbook.id-taken', what, where: read.value.id, expected: 'a new ULID for each entry' },
      ];
      doubtful.push({ index, id, raw, problems, entry: read.value, releasable: false, costly: false });
      continue;
    }
    first.set(read.value.id, read.value);
    if (!set) entries.push(read.value);
    else {
      const { entry, problems, releasable, decision } = set;
      const decided = decision ? { decision } : {};
      doubtful.push({ index, id, raw, problems, entry, releasable, costly: false, ...decided });
    }
  }
  return { entries, newer, doubtful };
}

/** Of records that cannot be read: how many need a newer version, and how many are no entries of any version that is known. */
export function countUnread(raws: readonly unknown[]): Unread {
  const newer = raws.filter((raw) => {
    const read = readEntry(raw, 'a record');
    return !read.ok && idOf(raw) !== null && saysKind(raw) && needsNewerVersion(read.problems);
  }).length;
  return { newer, broken: raws.length - newer };
}
