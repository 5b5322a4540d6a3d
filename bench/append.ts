/**
 * One durable entry a request through the whole API, against one durable row a commit by the raw driver, in one run on one disk, with
 * the same settings and rows. Each is measured in many short turns one after the other, so that a disk or a machine that is busy for a
 * while is so for all; reported are medians over the turns.
 *
 * A request over HTTP costs something whatever it does. What that is here is measured, too: a handler that does nothing. Where the disk
 * is quicker than that (a virtual disk that flushes into memory), one client cannot come near the raw driver; from which commit time on
 * one client reaches 0.7 is told as `reachedFromMs`.
 *
 * Usage: `npx tsx bench/append.ts [ROUNDS]` (default 12 of some 2 seconds). Prints one JSON line.
 */
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import { type AddressInfo, connect, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Sqlite from 'better-sqlite3';
import { type Entry, writeEntry } from '../src/logbook/index.ts';
import { unwrap } from '../src/problem/index.ts';
import { serve } from '../src/server/index.ts';
import { openStore } from '../src/store/index.ts';
import { shippedCatalog } from '../test/support/catalog.ts';
import { entryNumber } from '../test/support/keeping.ts';

const ROUNDS = Number(process.argv[2] ?? 12);
const TURN_MS = 400;
const MANY = 16;
const PARTS = 60;

/** A reading of one of many parts, as a logbook has them. */
function readingNumber(n: number): Entry {
  const entry = entryNumber(n);
  if (entry.kind !== 'reading') throw new Error('invariant: the sample is a reading');
  return {
    ...entry,
    body: { ...entry.body, part: `part-${n % PARTS}`, what: n % 3 ? 'pressure-cold' : 'tread-depth' },
  };
}

/** The parts that the readings are of, handed in before the clock starts. */
function fits(): Entry[] {
  return Array.from({ length: PARTS }, (_, n) => ({
    ...entryNumber(900_000_000 + n),
    kind: 'fit',
    on: '2026-04-01',
    body: { part: `part-${n}`, kind: 'tire', isNew: true },
  }));
}

/** One row a commit, with the settings of the store. */
class Raw {
  readonly #insert;
  #next = 0;

  constructor(file: string) {
    const db = new Sqlite(file);
    db.pragma('journal_mode = WAL');
    db.pragma('synchronous = FULL');
    db.exec('CREATE TABLE entries (id TEXT NOT NULL PRIMARY KEY, line TEXT NOT NULL) STRICT');
    this.#insert = db.prepare('INSERT INTO entries VALUES (?, ?)');
  }

  turn(): number {
    const started = performance.now();
    let rows = 0;
    while (performance.now() - started < TURN_MS) {
      const entry = readingNumber(this.#next++);
      this.#insert.run(entry.id, writeEntry(entry));
      rows++;
    }
    return rows / ((performance.now() - started) / 1000);
  }
}

/** A client that costs little: one connection, one request at a time, written by hand. */
class Client {
  readonly #socket: Socket;
  readonly #path: string;
  #resolve: (answer: string) => void = () => undefined;
  #heard = '';

  constructor(url: URL) {
    this.#socket = connect(Number(url.port), url.hostname).setNoDelay(true).setEncoding('latin1');
    this.#path = url.pathname;
    this.#socket.on('data', (text: string) => {
      this.#heard += text;
      const end = this.#heard.indexOf('\r\n\r\n');
      const length = /content-length: (\d+)/i.exec(this.#heard)?.[1];
      if (end === -1 || length === undefined || this.#heard.length < end + 4 + Number(length)) return;
      const answer = this.#heard;
      this.#heard = '';
      this.#resolve(answer);
    });
  }

  async post(body: string): Promise<void> {
    const answer = await new Promise<string>((resolve) => {
      this.#resolve = resolve;
      this.#socket.write(
        `POST ${this.#path} HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`,
      );
    });
    if (!answer.startsWith('HTTP/1.1 200')) throw new Error(`answered ${answer.slice(0, 200)}`);
  }

  end(): void {
    this.#socket.destroy();
  }
}

let sent = 0;
const nextBody = (): string => JSON.stringify({ entries: [readingNumber(10_000_000 + sent++)] });

/** Requests a second, each acknowledged before its client sends the next. */
async function turn(clients: readonly Client[]): Promise<number> {
  const started = performance.now();
  let acknowledged = 0;
  await Promise.all(
    clients.map(async (client) => {
      while (performance.now() - started < TURN_MS) {
        await client.post(nextBody());
        acknowledged++;
      }
    }),
  );
  return acknowledged / ((performance.now() - started) / 1000);
}

/** The server, in a process of its own, and beside it one that only reads what comes and says so. */
async function beServer(folder: string): Promise<void> {
  const store = unwrap(await openStore({ folder }));
  const options = {
    store,
    catalog: shippedCatalog(),
    clock: Date.now,
    today: () => '2026-06-12',
    version: 'bench',
    requestLimit: false,
  } as const;
  const listening = unwrap(await serve(options, { port: 0 }));
  const floor = createServer((asked, answer) => {
    asked.resume().on('end', () => answer.setHeader('content-length', 2).end('{}'));
  }).listen(0, '127.0.0.1', () => {
    const { port } = floor.address() as AddressInfo;
    process.send!([`${listening.url}/api/rigs/marigold/entries`, `http://127.0.0.1:${port}/`]);
  });
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;
const round = (value: number): number => Math.round(value * 100) / 100;

async function main(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'rigworthy-bench-'));
  const server = fork(fileURLToPath(import.meta.url), ['--server', folder], { execArgv: ['--import', 'tsx'] });
  const [[api, floor]] = (await once(server, 'message')) as [[string, string]];
  const raw = new Raw(join(folder, 'raw.sqlite'));
  const one = [new Client(new URL(api))];
  const many = Array.from({ length: MANY }, () => new Client(new URL(api)));
  const empty = [new Client(new URL(floor))];
  await one[0]!.post(JSON.stringify({ entries: fits() }));
  const rates: Record<'raw' | 'apiOne' | 'apiMany' | 'httpFloor', number[]> = {
    raw: [],
    apiOne: [],
    apiMany: [],
    httpFloor: [],
  };
  for (let at = -1; at < ROUNDS; at++) {
    const measured = {
      raw: raw.turn(),
      apiOne: await turn(one),
      httpFloor: await turn(empty),
      apiMany: await turn(many),
    };
    // The first is for warming up.
    if (at >= 0) for (const [name, rate] of Object.entries(measured)) rates[name as keyof typeof rates].push(rate);
  }
  for (const client of [...one, ...many, ...empty]) client.end();
  server.kill();
  rmSync(folder, { recursive: true });
  const shares = (name: keyof typeof rates): number => median(rates[name].map((rate, at) => rate / rates.raw[at]!));
  const overheadMs = median(rates.apiOne.map((rate, at) => 1000 / rate - 1000 / rates.raw[at]!));
  console.log(
    JSON.stringify({
      raw: Math.round(median(rates.raw)),
      apiOne: Math.round(median(rates.apiOne)),
      apiMany: Math.round(median(rates.apiMany)),
      httpFloor: Math.round(median(rates.httpFloor)),
      shareOne: round(shares('apiOne')),
      shareMany: round(shares('apiMany')),
      shareHttpFloor: round(shares('httpFloor')),
      overheadMs: round(overheadMs),
      // commit ÷ (commit + overhead) = 0.7
      reachedFromMs: round((Math.max(0, overheadMs) * 0.7) / 0.3),
    }),
  );
}

if (process.argv[2] === '--server') void beServer(process.argv[3]!);
else void main();
