import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../../test/support/catalog.ts';
import { entryNumber } from '../../../test/support/keeping.ts';
import { fitSpare } from '../../../test/support/serving.ts';
import type { Entry } from '../../logbook/index.ts';
import { ProblemError } from '../../problem/index.ts';
import type { Frame } from './frame.ts';
import { Keeper } from './keeper.ts';
import type { Line } from './line.ts';
import { MemoryBooks } from './memory-books.ts';

/** Answers by path; what it was asked is kept. */
class Wire {
  readonly asked: string[] = [];
  rigs: { rig: string; role: string }[] = [{ rig: 'marigold', role: 'owner' }];
  entries: unknown[] = [];
  refuse: ((entries: Entry[]) => ProblemError | undefined) | undefined;
  taken: string[] = [];

  readonly json = async (path: string, init?: RequestInit): Promise<unknown> => {
    this.asked.push(`${init?.method ?? 'GET'} ${path.split('?')[0]}`);
    if (path === '/api/rigs') return { today: '2026-06-12', you: { name: 'Ada', signedIn: true }, rigs: this.rigs };
    if (this.rigs.length === 0) throw new ProblemError([{ code: 'access.not-found', what: 'There is no such rig' }]);
    if (init?.method === 'POST') {
      const { entries } = JSON.parse(String(init.body)) as { entries: Entry[] };
      const error = this.refuse?.(entries);
      if (error) throw error;
      this.taken.push(...entries.map(({ id }) => id));
      return { reports: [] };
    }
    const from = Number(new URLSearchParams(path.split('?')[1]).get('after') ?? 0);
    const page = this.entries.slice(from, from + 2);
    const more = from + 2 < this.entries.length;
    return { entries: page.map((entry) => ({ entry })), cursor: String(from + page.length), more, restarted: false };
  };
}

/** Books that keep an outbox, too: what `DeviceBooks` does, without a browser. */
class Outbox extends MemoryBooks {
  ids: string[] = [];
  override async keep(...[rig, entries, options]: Parameters<MemoryBooks['keep']>): Promise<void> {
    await super.keep(rig, entries, options);
    if (options.toSend) this.ids.push(...entries.map(({ id }) => id));
  }
  override async waiting(): Promise<string[]> {
    return this.ids;
  }
  override async taken(ids: readonly string[] = []): Promise<void> {
    this.ids = this.ids.filter((id) => !ids.includes(id));
  }
}

async function opened(wire: Wire, books = new Outbox()) {
  let frame: Frame | undefined;
  const keeper = new Keeper({
    catalog: shippedCatalog(),
    line: wire as unknown as Line,
    books,
    tell: (told) => {
      frame = told;
    },
    spread: () => undefined,
    today: () => '2026-06-12',
    fixed: undefined,
  });
  await keeper.openRig('marigold');
  return { keeper, books, frame: () => frame! };
}

const newer = (n: number) => ({ ...entryNumber(n), v: 2 });
const field = (n: number) => ({ ...entryNumber(n), body: { ...entryNumber(n).body, sensor: 'left' } });

describe('what a server hands on and this version cannot read', () => {
  it('is kept as it came and counted, wherever among the others it stands', async () => {
    const wire = new Wire();
    wire.entries = [newer(1), fitSpare('marigold', 2), field(3), entryNumber(4), { no: 'entry' }];
    const { keeper, books, frame } = await opened(wire);
    expect(frame()).toMatchObject({ standing: 'in-step', entries: 2, unread: 3, newer: 2 });
    expect(await books.unreadOf('marigold')).toEqual([newer(1), field(3), { no: 'entry' }]);
    expect(keeper.state.unread).toEqual({ newer: 2, broken: 1 });
    // Later ones count too, and the same again does not.
    wire.entries.push(newer(6), newer(1));
    await keeper.sync();
    expect(frame()).toMatchObject({ unread: 4, newer: 3 });
    await keeper.reload();
    expect(keeper.state.unread).toEqual({ newer: 3, broken: 1 });
  });
});

describe('a rig that the server does not know', () => {
  it('is said so, and not asked for until somebody asks', async () => {
    const wire = new Wire();
    wire.rigs = [];
    const { keeper, frame } = await opened(wire);
    expect(frame().standing).toBe('not-there');
    const before = wire.asked.length;
    for (let i = 0; i < 20; i++) await keeper.sync();
    expect(wire.asked.length).toBe(before);
    await keeper.meetAgain();
    expect(wire.asked.length).toBeGreaterThan(before);
    wire.rigs = [{ rig: 'marigold', role: 'owner' }];
    await keeper.sync(true);
    expect(frame().standing).toBe('in-step');
    const known = wire.asked.length;
    await keeper.sync();
    expect(wire.asked.length).toBeGreaterThan(known);
  });
});

describe('a batch that the server refuses as a whole', () => {
  it('is divided until the one is found that holds the others up', async () => {
    const wire = new Wire();
    const { keeper, books, frame } = await opened(wire);
    const bad = entryNumber(7);
    wire.refuse = (entries) =>
      entries.some(({ id }) => id === bad.id)
        ? new ProblemError([{ code: 'request.too-deep', what: 'The JSON nests too deep' }])
        : undefined;
    await keeper.write(Array.from({ length: 20 }, (_, n) => entryNumber(n + 1)));
    await keeper.sync();
    expect(books.ids).toEqual([bad.id]);
    expect(new Set(wire.taken).size).toBe(19);
    expect(frame().refused.map(({ id }) => id)).toEqual([bad.id]);
    // Not for a reason that has nothing to do with what is in it.
    let tries = 0;
    wire.refuse = () => {
      tries++;
      return new ProblemError([{ code: 'server.unexpected', what: 'Something went wrong on our side' }]);
    };
    await keeper.sync();
    expect(tries).toBe(1);
  });
});
