import type { Catalog } from '../../catalog/index.ts';
import { daysBetween, formatDate } from '../../dates/index.ts';
import { type OutlookDesk, openOutlookDesk } from '../../desk/index.ts';
import {
  addEntry,
  countUnread,
  type Entry,
  emptyState,
  foldEntries,
  type Judge,
  judgeBy,
  odometerTrack,
  type RigState,
  settingOf,
  tripsOf,
  type Unread,
  vehicleOf,
  withUnread,
} from '../../logbook/index.ts';
import { type Problem, ProblemError } from '../../problem/index.ts';
import { formatQuantity } from '../../quantity/index.ts';
import type { Books } from './books.ts';
import { type AskedRigs, askRigs, exchange, type Refusal } from './exchange.ts';
import type { Frame, Shown } from './frame.ts';
import type { Line, Role, Standing } from './line.ts';
import { MemoryBooks } from './memory-books.ts';
import { askShown } from './shown.ts';

/** Adding so many at once one by one would take longer than folding all anew. */
const REFOLD = 500;
/** Days by which a server's calendar may differ from ours through time zones and clocks set wrong. */
const CLOCKS_APART = 2;

export const READS_ONLY: Problem = {
  code: 'web.reads-only',
  what: 'You may read this rig, and not write on it',
  next: 'Its owner can make you a helper.',
};

function underWay(state: RigState, today: string): Frame['underWay'] {
  const trip = tripsOf(state).find(({ done, plan: { body } }) => !done && body.leave < today && body.return >= today);
  if (!trip) return null;
  const { name, leave, return: back } = trip.plan.body;
  return { trip: trip.id, name, day: daysBetween(leave, today) + 1, of: daysBetween(leave, back) + 1 };
}

/** One rig open on this device: its state, its desk, its exchange with the server, and the head of every page. */
export class Keeper {
  /** What the trade says, without the owner's word. */
  readonly shipped: Catalog;
  readonly line: Line;
  /** Came by a share link: the replica is in memory only, and nothing is written. */
  readonly #byLink: boolean;
  #books: Books;
  readonly #tell: (frame: Frame) => void;
  readonly #spread: (rig: string) => void;
  readonly #deviceToday: () => string;
  readonly #judge: Judge;
  #state: RigState;
  #rig: string | null = null;
  #rigs: string[] = [];
  #stage: Frame['stage'] = 'opening';
  #todayFixed: string | undefined;
  /** The day on which this rig stands still: a demo. */
  #rigToday: string | undefined;
  #serverToday: string | undefined;
  #waiting = 0;
  /** Entries fetched so far, while a logbook is on its way. */
  #coming = 0;
  #standing: Standing = 'not-asked';
  #troubles: readonly Problem[] = [];
  /** Until when the server asked to be left alone, ms since 1970; and what wakes us then. */
  #again = 0;
  #waking: ReturnType<typeof setTimeout> | undefined;
  #role: Role | null = null;
  #shown: Shown | null = null;
  #refused: readonly Refusal[] = [];
  #by = 'owner';
  /** The name is the account's, and no other is taken here. */
  #signedIn = false;
  #version = 0;
  /** What the page was last told of: its answers stay good until one of these changes. */
  #told: { state: RigState; today: string; stage: Frame['stage'] } | undefined;
  #desk: OutlookDesk | undefined;

  constructor(options: {
    catalog: Catalog;
    line: Line;
    /** Where the page came by a share link there are none: what it shows is kept in memory only. */
    books: Books | null;
    tell: (frame: Frame) => void;
    /** Tells other windows that the replica has news. */
    spread: (rig: string) => void;
    today: () => string;
    fixed: string | undefined;
  }) {
    this.shipped = options.catalog;
    this.#judge = judgeBy(options.catalog);
    this.#state = emptyState(this.#judge);
    this.line = options.line;
    this.#byLink = options.books === null;
    this.#books = options.books ?? new MemoryBooks();
    this.#tell = options.tell;
    this.#spread = options.spread;
    this.#deviceToday = options.today;
    this.#todayFixed = options.fixed;
  }

  get state(): RigState {
    return this.#state;
  }

  /** What the trade says, with the owner's handbook, upkeeps and kinds of part laid over it. */
  get catalog(): Catalog {
    return this.desk().catalog;
  }

  get rig(): string {
    if (this.#rig === null) throw new Error('invariant: no rig is open');
    return this.#rig;
  }

  get books(): Books {
    return this.#books;
  }

  get by(): string {
    return this.#by;
  }

  get mayWrite(): boolean {
    return !this.#byLink && this.#role !== 'reader';
  }

  get refused(): readonly Refusal[] {
    return this.#refused;
  }

  /** An entry of this rig that is known here. A value, so that it can be handed on. */
  readonly entry = (id: string): Entry | undefined => this.#state.entries.get(id);

  /** Entries written here that the server does not have yet. */
  async waitingEntries(): Promise<Entry[]> {
    return (await this.#books.waiting(this.rig)).flatMap((id) => this.entry(id) ?? []);
  }

  get today(): string {
    return this.#todayFixed ?? this.#rigToday ?? this.#serverToday ?? this.#deviceToday();
  }

  /** The desk of the state as it is now; worked out once a state and day. */
  desk(): OutlookDesk {
    if (this.#desk?.state !== this.#state || this.#desk.now !== this.today) {
      this.#desk = openOutlookDesk(this.#state, this.shipped, { now: this.today });
    }
    return this.#desk;
  }

  /** Opens what this device has, and tells at once: whatever the network does, that can be asked. */
  async open(): Promise<void> {
    this.#by = (await this.#books.device('by')) ?? 'owner';
    this.#serverToday = (await this.#books.device('today')) || undefined;
    const notes = await this.#books.rigs();
    const last = await this.#books.device('rig');
    this.#rigs = notes.map(({ rig }) => rig).sort();
    const first = this.#rigs.find((rig) => rig === last) ?? this.#rigs[0];
    if (first !== undefined) await this.openRig(first);
  }

  /** Asks the server, and fetches its first rig where this device has none. */
  async meetServer(): Promise<void> {
    const asked = await this.#ask();
    if (this.#rig === null && this.#rigs[0] !== undefined) await this.openRig(this.#rigs[0], asked);
    else await this.#exchange(asked);
    if (this.#rig === null && this.#stage === 'opening') this.#stage = 'empty';
    await this.#changed();
  }

  /** What the server says of us: its rigs and our role on each, its day; by a share link, whose rig it is. */
  async #ask(): Promise<AskedRigs> {
    if (this.#byLink) {
      const shown = await askShown(this.line);
      if (shown === 'ended') await this.#end();
      else this.#shown = shown ?? this.#shown;
    }
    const asked = await askRigs(this.line);
    this.#standing = asked.standing;
    this.#holdBack(asked.waitS);
    await this.#standStill(asked.today);
    await this.#nameUs(asked.you);
    const fresh = asked.rigs.map(({ rig }) => rig).filter((rig) => !this.#rigs.includes(rig));
    if (this.#stage !== 'ended') this.#rigs = [...this.#rigs, ...fresh].sort();
    return asked;
  }

  /** Signed in, one writes under the account's name; else under the login's, until another is chosen on this device. */
  async #nameUs(you: AskedRigs['you']): Promise<void> {
    if (you === undefined || this.#byLink) return;
    this.#signedIn = you.signedIn;
    if (!you.signedIn && (await this.#books.device('by')) !== undefined) return;
    this.#by = you.name;
    await this.#books.putDevice('by', you.name);
  }

  /** The share link shows nothing any more: neither does this page. */
  async #end(): Promise<void> {
    this.#books = new MemoryBooks();
    this.#state = emptyState(this.#judge);
    this.#rig = null;
    this.#rigs = [];
    this.#stage = 'ended';
    await this.#changed();
  }

  /** A server whose day is far from ours stands still on purpose: it shows a demo. Remembered, so that it does so offline too. */
  async #standStill(day: string | undefined): Promise<void> {
    if (day === undefined) return;
    const still = Math.abs(daysBetween(day, this.#deviceToday())) > CLOCKS_APART ? day : '';
    this.#serverToday = still === '' ? undefined : still;
    await this.#books.putDevice('today', still);
  }

  async openRig(rig: string, asked?: AskedRigs): Promise<void> {
    const note = await this.#books.note(rig);
    this.#rig = rig;
    if (!this.#rigs.includes(rig)) this.#rigs = [...this.#rigs, rig].sort();
    this.#rigToday = note?.today;
    this.#role = note?.role ?? null;
    this.#refused = [];
    this.#state = await this.#folded(rig);
    await this.#books.putDevice('rig', rig);
    if (note === undefined) {
      await this.#books.putNote({ rig });
      await this.#exchange(asked ?? (await this.#ask()));
    }
    this.#stage = 'open';
    await this.#changed();
  }

  /** A rig that begins here: nothing is in its logbook yet. */
  async startRig(rig: string, today?: string): Promise<void> {
    await this.#books.putNote({ rig, ...(today === undefined ? {} : { today }) });
    await this.openRig(rig);
  }

  /**
   * Sends what waits and fetches what is new. A server that said it does not know the rig is asked again only when somebody asks
   * for it (`anew`), not every few seconds for ever.
   */
  async sync(anew = false): Promise<void> {
    if (this.#rig === null || Date.now() < this.#again) return;
    if (this.#standing === 'not-there' && !anew) return;
    await this.#exchange(await this.#ask());
    await this.#changed();
  }

  /** Somebody looks again: a server that did not know the rig may know it by now. */
  async meetAgain(): Promise<void> {
    if (this.#standing === 'not-there') await this.sync(true);
  }

  /** Asks nothing for so long, and then by itself, a little later than allowed so that not all come at the same instant. */
  #holdBack(seconds: number): void {
    if (seconds === 0) return;
    const wait = seconds * 1000 * (1 + 0.1 * Math.random());
    this.#again = Date.now() + wait;
    clearTimeout(this.#waking);
    this.#waking = setTimeout(() => void this.sync(), wait + 1);
  }

  async #exchange(asked: AskedRigs): Promise<void> {
    const rig = this.#rig;
    if (rig === null) return;
    const { role: before, ...note } = (await this.#books.note(rig)) ?? { rig };
    if (note.local) this.#standing = 'alone';
    if (this.#standing !== 'in-step') return;
    const role = asked.rigs.find((one) => one.rig === rig)?.role;
    if (role !== before) await this.#books.putNote(role === undefined ? note : { ...note, role });
    this.#role = role ?? null;
    const told = await exchange(this, { rig, sends: this.mayWrite }, (coming) => {
      this.#coming = coming;
      if (this.#stage === 'opening') this.#tell(this.#frame());
    });
    this.#coming = 0;
    this.#standing = told.standing;
    this.#holdBack(told.waitS);
    this.#troubles = told.standing === 'troubled' ? told.problems : [];
    const struck = told.refused.filter(({ id }) => this.#state.struck.has(id));
    // Refused and struck: nobody else ever saw it, so there is nothing left to send.
    await this.#books.taken(struck.map(({ id }) => id));
    this.#refused = told.refused.filter((one) => !struck.includes(one));
    if (this.#rig !== rig) return;
    this.take(told.news);
    const had = this.#state.unread;
    const unread = await this.#unreadOf(rig);
    const isMore = unread.newer !== had.newer || unread.broken !== had.broken;
    if (isMore) this.#state = withUnread(this.#state, unread);
    if (told.news.length > 0 || isMore) this.#spread(rig);
  }

  isOpen(rig: string): boolean {
    return this.#rig === rig;
  }

  /** Reads the replica again: another window wrote into it. */
  async reload(): Promise<void> {
    this.#state = await this.#folded(this.rig);
    await this.#changed();
  }

  /** For a worker that only reads: as much as the page has been told of. */
  async catchUp(of: { rig: string | null; entries: number; unread: number; today: string }): Promise<void> {
    this.#todayFixed = of.today;
    this.#by = (await this.#books.device('by')) ?? 'owner';
    const { entries, unread } = this.#state;
    const isAsFar = of.entries === entries.size && of.unread === unread.newer + unread.broken;
    if (of.rig === null || (of.rig === this.#rig && isAsFar)) return;
    this.#rig = of.rig;
    this.#state = await this.#folded(of.rig);
  }

  /** A rig as its books have it, with the number of records in them that this version cannot read. */
  async #folded(rig: string): Promise<RigState> {
    const entries = await this.#books.entriesOf(rig);
    return withUnread(foldEntries(entries, undefined, this.#judge), await this.#unreadOf(rig));
  }

  async #unreadOf(rig: string): Promise<Unread> {
    return countUnread(await this.#books.unreadOf(rig));
  }

  /** Entries into the state, from wherever they come. */
  take(entries: readonly Entry[]): void {
    if (entries.length > REFOLD)
      this.#state = withUnread(
        foldEntries([...this.#state.entries.values(), ...entries], undefined, this.#judge),
        this.#state.unread,
      );
    else for (const entry of entries) this.#state = addEntry(this.#state, entry);
  }

  /** Written down here: into the replica and the outbox, then off to the server without waiting for it. */
  async write(entries: readonly Entry[]): Promise<void> {
    if (!this.mayWrite) throw new ProblemError([READS_ONLY]);
    await this.#books.keep(this.rig, entries, { toSend: true });
    this.take(entries);
    await this.#changed();
    this.#spread(this.rig);
    void this.sync();
  }

  async signAs(name: string): Promise<void> {
    if (this.#signedIn) return;
    this.#by = name;
    await this.#books.putDevice('by', name);
    await this.#changed();
  }

  async #changed(): Promise<void> {
    if (this.#rig !== null) this.#waiting = (await this.#books.waiting(this.#rig)).length;
    if (this.#told?.state !== this.#state || this.#told.today !== this.today || this.#told.stage !== this.#stage)
      this.#version += 1;
    this.#told = { state: this.#state, today: this.today, stage: this.#stage };
    this.#tell(this.#frame());
  }

  #frame(): Frame {
    const state = this.#state;
    const today = this.today;
    const newest = odometerTrack(state, 'trailer').newest;
    const units = settingOf(state, 'units') ?? 'us';
    return {
      version: this.#version,
      stage: this.#stage,
      rig: this.#rig,
      rigs: this.#rigs,
      trailer: vehicleOf(state, 'trailer')?.body.name ?? '',
      tow: vehicleOf(state, 'tow')?.body.name ?? '',
      odometer: newest ? formatQuantity({ value: newest.shownMiles, unit: 'mi' }, { digits: 1, system: units }) : null,
      today,
      todayText: formatDate(today, 'short'),
      todayShort: formatDate(today, 'no-year'),
      todayFixed: (this.#todayFixed ?? this.#rigToday ?? this.#serverToday) !== undefined,
      underWay: underWay(state, today),
      entries: state.entries.size,
      unread: state.unread.newer + state.unread.broken,
      newer: state.unread.newer,
      aside: [...state.aside.values()].filter(({ decision }) => decision === undefined).length,
      coming: this.#coming,
      waiting: this.#waiting,
      standing: this.#standing,
      again: this.#again > Date.now() ? this.#again : null,
      troubles: this.#troubles,
      role: this.#role,
      mayWrite: this.mayWrite,
      shown: this.#shown,
      refused: this.#refused,
      by: this.#by,
      signedIn: this.#signedIn,
      units,
    };
  }
}
