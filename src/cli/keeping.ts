/** Where the logbooks are, and one of them opened on one day. */
import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { parseDate } from '../dates/index.ts';
import {
  countUnread,
  type Entry,
  foldEntries,
  judgeBy,
  type RigState,
  stateThrough,
  vehicleOf,
  withUnread,
} from '../logbook/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import {
  clearAbandonedTemporary,
  openStore,
  PAGE_MAX,
  type Store,
  type StoredRaw,
  type Target,
  temporaryFolder,
} from '../store/index.ts';
import { shippedCatalog } from './catalog.ts';
import type { Io } from './io.ts';

/** Options that every command on a rig takes. */
export interface RigOptions {
  readonly data?: string;
  /** A PostgreSQL database instead of the data folder: `postgres://user@host/name`. */
  readonly database?: string;
  readonly demo?: boolean;
  readonly rig?: string;
  readonly now?: string;
  readonly json?: boolean;
}

/** An open store, and the day that is today. */
export interface Keeping {
  readonly store: Store;
  /** The data folder; with a database only copies are kept there. */
  readonly folder: string;
  readonly demo: boolean;
  readonly now: string;
  close(): Promise<void>;
}

export interface OpenRig extends Keeping {
  readonly rig: string;
  /** As things stood at the end of `now`. */
  readonly state: RigState;
  /** Everything ever written, later days too: what a new entry must agree with. */
  readonly whole: RigState;
  /** `Marigold & Biscuit`. */
  readonly name: string;
}

/** Where an owner's logbooks lie: `--data`, else the XDG data folder. */
export function dataFolder(options: RigOptions, io: Io): string {
  if (options.data !== undefined) return options.data;
  return join(io.env.XDG_DATA_HOME || join(io.home, '.local', 'share'), 'rigworthy');
}

/** Where the logbooks are: `--data` or `--database`. Problems: `cli.two-places`, `cli.database`. */
export function targetOf(options: RigOptions, io: Io): Result<Target> {
  const { database } = options;
  if (database === undefined) return ok({ folder: dataFolder(options, io) });
  if (options.data !== undefined) {
    return fail({
      code: 'cli.two-places',
      what: '`--database` and `--data` are given together',
      expected: 'one of them: logbooks are in a folder, or in a database',
    });
  }
  if (URL.canParse(database) && /^postgres(ql)?:$/.test(new URL(database).protocol)) return ok({ database });
  return fail({
    code: 'cli.database',
    what: 'This is not the address of a PostgreSQL database',
    where: '--database',
    expected: 'something like postgres://user@host:5432/name',
    next: 'A password that must not be seen goes into the environment as PGPASSWORD.',
  });
}

/** Makes a folder where there is none. Problems: `cli.folder`. */
export async function makeFolder(folder: string, option: '--data' | '--out'): Promise<Result<true>> {
  // What is kept is nobody else's on this machine.
  return mkdir(folder, { recursive: true, mode: 0o700 }).then(
    () => ok(true),
    (error: NodeJS.ErrnoException) =>
      fail({
        code: 'cli.folder',
        what: `The folder cannot be made: ${error.message}`,
        where: folder,
        next: `Name another with ${option}.`,
      }),
  );
}

/** Today, or what `--now` says; the demo rig stands still on its own day. Problems: `date.*`, `cli.demo-and-data`, those of `targetOf`. */
export async function openKeeping(options: RigOptions, io: Io): Promise<Result<Keeping>> {
  if (options.demo && (options.data !== undefined || options.database !== undefined)) {
    return fail({
      code: 'cli.demo-and-data',
      what: `\`--demo\` and \`--${options.data === undefined ? 'database' : 'data'}\` are given together`,
      expected: 'one of them',
      next: 'The demo rig lives in a throw-away copy.',
    });
  }
  const named = targetOf(options, io);
  if (!named.ok) return named;
  const { DEMO_TODAY, demoLogbook } = options.demo
    ? await import('./demo.ts')
    : { DEMO_TODAY: undefined, demoLogbook: undefined };
  const now = options.now === undefined ? ok(DEMO_TODAY ?? io.today()) : parseDate(options.now);
  if (!now.ok) return fail({ ...now.problems[0]!, where: '--now' });
  const folder = options.demo ? await demoFolder() : dataFolder(options, io);
  const clear = async (): Promise<void> => {
    if (options.demo) await rm(folder, { recursive: true, force: true });
  };
  const target = options.demo ? { folder } : named.value;
  if (!options.demo && 'folder' in target) {
    const made = await makeFolder(folder, '--data');
    if (!made.ok) return made;
  }
  const opened = await openStore(target);
  if (!opened.ok) {
    await clear();
    return opened;
  }
  const store = opened.value;
  const close = async (): Promise<void> => {
    await store.close();
    await clear();
  };
  if (demoLogbook) {
    const filled = await store.append(demoLogbook(), { via: 'demo' });
    if (!filled.ok) throw new Error('invariant: the demo rig fits into an empty store');
  }
  return ok({ store, folder, demo: options.demo === true, now: now.value, close });
}

function demoFolder(): Promise<string> {
  clearAbandonedTemporary();
  return temporaryFolder('demo');
}

/** Opens the one rig, or the one that is named. Problems: those of `openKeeping`, `cli.rig-none`, `cli.rig-many`, `cli.rig-unknown`. */
export async function openRig(options: RigOptions, io: Io): Promise<Result<OpenRig>> {
  const keeping = await openKeeping(options, io);
  if (!keeping.ok) return keeping;
  const { store, now } = keeping.value;
  const rig = await rigOf(store, options.rig);
  if (!rig.ok) {
    await keeping.value.close();
    return rig;
  }
  const whole = stateOf(await logbookOf(store, rig.value));
  const state = stateThrough(whole, now);
  const names = (['trailer', 'tow'] as const).flatMap((role) => vehicleOf(state, role)?.body.name ?? []);
  return ok({ ...keeping.value, rig: rig.value, state, whole, name: names.join(' & ') || rig.value });
}

async function rigOf(store: Store, named: string | undefined): Promise<Result<string>> {
  const rigs = (await store.rigs()).map((one) => one.rig);
  const { where } = store.place;
  if (named !== undefined) {
    if (rigs.includes(named)) return ok(named);
    return fail({
      code: 'cli.rig-unknown',
      what: `There is no rig “${named}”`,
      where,
      expected: rigs.length ? rigs.join(', ') : 'a rig with a logbook; there is none',
    });
  }
  if (rigs.length === 1) return ok(rigs[0]!);
  if (rigs.length > 1)
    return fail({
      code: 'cli.rig-many',
      what: `There are ${rigs.length} rigs here`,
      where,
      expected: `--rig with one of ${rigs.join(', ')}`,
    });
  return fail({
    code: 'cli.rig-none',
    what: 'There is no logbook yet',
    where,
    next: 'Bring one in with `rigworthy import FILE`, begin one on the page that `rigworthy serve` shows, or look at the demo rig with --demo.',
  });
}

/** A rig's whole logbook, in the order in which it became known, and the records in it that this version cannot read. */
export async function logbookOf(store: Store, rig: string): Promise<{ entries: Entry[]; unread: StoredRaw[] }> {
  const entries: Entry[] = [];
  const unread: StoredRaw[] = [];
  for (let cursor: string | undefined; ; ) {
    const page = await store.readSince(rig, cursor, PAGE_MAX);
    if (!page.ok) throw new Error(`invariant: a cursor of this store is good: ${page.problems[0]!.what}`);
    entries.push(...page.value.entries.map((one) => one.entry));
    unread.push(...page.value.unread);
    if (!page.value.more) return { entries, unread };
    cursor = page.value.cursor;
  }
}

/** The state of a logbook as every device has it: what cannot be true is set aside, what cannot be read is counted. */
export function stateOf({ entries, unread }: { entries: readonly Entry[]; unread: readonly StoredRaw[] }): RigState {
  const state = foldEntries(entries, undefined, judgeBy(shippedCatalog()));
  return withUnread(state, countUnread(unread.map(({ raw }) => raw)));
}
