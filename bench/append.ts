/**
 * One durable entry a request through the whole API, against one durable row a commit by the raw driver, in one run on one disk, with
 * the same settings and rows. Each is measured in many short turns one after the other, so that a disk or a machine that is busy for a
 * while is so for all; reported are medians over the turns.
 *
 * A client that sends one request at a time waits for the commit and for HTTP, whatever the server does. Two bare handlers tell how much
 * that is: one that does nothing (`httpFloor`), and one that commits the row with the raw driver and does nothing else (`bareCommit`).
 * No server can be quicker for one client than the second. What one client waits beyond it is ours (`oursMs`).
 *
 * Usage: `npx tsx bench/append.ts [ROUNDS]` (default 10 of some 3 seconds). Prints one JSON object:
 * - `perSecond`: rows or requests a second; `one`, `four`, `sixteen` are clients of the API;
 * - `toRaw`: the same as shares of `raw`, turn by turn;
 * - `ceilingOne`: the greatest share one client can come to: `computed` from commit + HTTP floor, `measured` by the bare handler that commits;
 * - `oursMs`: what the server adds for one client, in milliseconds;
 * - `oneReaches70From`: the commit time, in milliseconds, from which on one client comes to 0.7 of the raw driver.
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

const ROUNDS = Number(process.argv[2] ?? 10);
const TURN_MS = 400;
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

  row(): void {
    const entry = readingNumber(this.#next++);
    this.#insert.run(entry.id, writeEntry(entry));
  }

  turn(): number {
    const started = performance.now();
    let rows = 0;
    for (; performance.now() - started < TURN_MS; rows++) this.row();
    return rows / ((performance.now() - started) / 1000);
  }
}

/** A client that costs little: one connection, one request at a time, written by hand. */
class Client {
  readonly #socket: Socket;
  readonly #path: string;
  #resolve: (answer: string) => void = () => undefined;
  #heard = '';

  constructor(address: string) {
    const url = new URL(address);
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

interface Addresses {
  readonly api: string;
  readonly nothing: string;
  readonly commit: string;
}

/** The server, in a process of its own, and beside it the two bare handlers. */
async function beServer(folder: string): Promise<void> {
  const store = unwrap(await openStore({ folder }));
  const options = {
    store,
    catalog: shippedCatalog(),
    clock: Date.now,
    today: () => '2026-06-12',
    version: 'bench',
    // Counted as ever, and never reached.
    requestLimit: { address: 1e9, caller: 1e9 },
  } as const;
  const listening = unwrap(await serve(options, { port: 0 }));
  const raw = new Raw(join(folder, 'bare.sqlite'));
  const bare = createServer((asked, answer) => {
    asked.resume().on('end', () => {
      if (asked.url === '/commit') raw.row();
      answer.setHeader('content-length', 2).end('{}');
    });
  }).listen(0, '127.0.0.1', () => {
    const at = `http://127.0.0.1:${(bare.address() as AddressInfo).port}`;
    const addresses: Addresses = {
      api: `${listening.url}/api/rigs/marigold/entries`,
      nothing: `${at}/nothing`,
      commit: `${at}/commit`,
    };
    process.send!(addresses);
  });
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;
const hundredths = (value: number): number => Math.round(value * 100) / 100;

const NAMES = ['raw', 'httpFloor', 'bareCommit', 'one', 'four', 'sixteen'] as const;
/** Rows or requests a second. */
type Round = Readonly<Record<(typeof NAMES)[number], number>>;

async function main(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'rigworthy-bench-'));
  const server = fork(fileURLToPath(import.meta.url), ['--server', folder], { execArgv: ['--import', 'tsx'] });
  const [addresses] = (await once(server, 'message')) as [Addresses];
  const raw = new Raw(join(folder, 'raw.sqlite'));
  const clients = (count: number, address: string) => Array.from({ length: count }, () => new Client(address));
  const of = {
    one: clients(1, addresses.api),
    four: clients(4, addresses.api),
    sixteen: clients(16, addresses.api),
    httpFloor: clients(1, addresses.nothing),
    bareCommit: clients(1, addresses.commit),
  };
  await of.one[0]!.post(JSON.stringify({ entries: fits() }));
  const rounds: Round[] = [];
  for (let at = -1; at < ROUNDS; at++) {
    const measured = {
      raw: raw.turn(),
      httpFloor: await turn(of.httpFloor),
      bareCommit: await turn(of.bareCommit),
      one: await turn(of.one),
      four: await turn(of.four),
      sixteen: await turn(of.sixteen),
    };
    // The first is for warming up.
    if (at >= 0) rounds.push(measured);
  }
  for (const client of Object.values(of).flat()) client.end();
  server.kill();
  rmSync(folder, { recursive: true });
  const over = (figure: (round: Round) => number): number => median(rounds.map(figure));
  const each = (figure: (name: keyof Round) => number) => Object.fromEntries(NAMES.map((name) => [name, figure(name)]));
  const beyondCommit = over(({ one, raw }) => 1000 / one - 1000 / raw);
  const report = {
    perSecond: each((name) => Math.round(over((round) => round[name]))),
    toRaw: each((name) => hundredths(over((round) => round[name] / round.raw))),
    ceilingOne: {
      computed: hundredths(over(({ raw, httpFloor }) => 1 / (1 / raw + 1 / httpFloor) / raw)),
      measured: hundredths(over(({ raw, bareCommit }) => bareCommit / raw)),
    },
    oursMs: hundredths(over(({ one, bareCommit }) => 1000 / one - 1000 / bareCommit)),
    // commit ÷ (commit + what comes beyond) = 0.7
    oneReaches70From: hundredths((Math.max(0, beyondCommit) * 0.7) / 0.3),
  };
  console.log(JSON.stringify(report, null, 2));
}

if (process.argv[2] === '--server') void beServer(process.argv[3]!);
else void main();
