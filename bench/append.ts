/**
 * One durable entry a request through the whole API, against one durable row a commit by the raw driver, in one run on one disk.
 * Usage: `npx tsx bench/append.ts [SECONDS]` (default 5 seconds each; 1 client, then 16). Prints one JSON line.
 */
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { Agent, request } from 'node:http';
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

const SECONDS = Number(process.argv[2] ?? 5);
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

/** Rows a second, each its own transaction, with the settings of the store. */
function rawRate(file: string, seconds: number): number {
  const db = new Sqlite(file);
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.exec('CREATE TABLE entries (id TEXT NOT NULL PRIMARY KEY, line TEXT NOT NULL) STRICT');
  const insert = db.prepare('INSERT INTO entries VALUES (?, ?)');
  const started = performance.now();
  let rows = 0;
  while (performance.now() - started < seconds * 1000) {
    const entry = readingNumber(rows++);
    insert.run(entry.id, writeEntry(entry));
  }
  const rate = rows / ((performance.now() - started) / 1000);
  db.close();
  return rate;
}

function post(agent: Agent, url: URL, body: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const headers = { 'content-type': 'application/json', 'content-length': Buffer.byteLength(body) };
    const asked = request(
      { agent, host: url.hostname, port: url.port, path: '/api/rigs/marigold/entries', method: 'POST', headers },
      (answer) => {
        answer.resume();
        answer.on('end', () =>
          answer.statusCode === 200 ? resolve() : reject(new Error(`answered ${answer.statusCode}`)),
        );
      },
    );
    asked.on('error', reject);
    asked.end(body);
  });
}

/** Entries a second through the API, each acknowledged before its client sends the next. */
async function apiRate(url: URL, clients: number, seconds: number, base: number): Promise<number> {
  const agent = new Agent({ keepAlive: true, maxSockets: clients });
  const started = performance.now();
  let sent = 0;
  let acknowledged = 0;
  const client = async (): Promise<void> => {
    while (performance.now() - started < seconds * 1000) {
      await post(agent, url, JSON.stringify({ entries: [readingNumber(base + sent++)] }));
      acknowledged++;
    }
  };
  await Promise.all(Array.from({ length: clients }, client));
  agent.destroy();
  return acknowledged / ((performance.now() - started) / 1000);
}

/** The server, in a process of its own. */
async function beServer(folder: string): Promise<void> {
  const catalog = shippedCatalog();
  const store = unwrap(await openStore({ folder }));
  const options = { store, catalog, clock: Date.now, today: () => '2026-06-12', version: 'bench' };
  const listening = unwrap(await serve(options, { port: 0 }));
  process.send!(listening.url);
}

async function main(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'rigworthy-bench-'));
  const server = fork(fileURLToPath(import.meta.url), ['--server', folder], { execArgv: ['--import', 'tsx'] });
  const [url] = (await once(server, 'message')) as [string];
  const agent = new Agent();
  await post(agent, new URL(url), JSON.stringify({ entries: fits() }));
  agent.destroy();
  const rawBefore = rawRate(join(folder, 'before.sqlite'), SECONDS);
  const apiOne = await apiRate(new URL(url), 1, SECONDS, 0);
  const apiMany = await apiRate(new URL(url), 16, SECONDS, 10_000_000);
  const rawAfter = rawRate(join(folder, 'after.sqlite'), SECONDS);
  server.kill();
  rmSync(folder, { recursive: true });
  const raw = (rawBefore + rawAfter) / 2;
  const round = (value: number): number => Math.round(value * 100) / 100;
  console.log(
    JSON.stringify({
      raw: Math.round(raw),
      apiOne: Math.round(apiOne),
      apiMany: Math.round(apiMany),
      shareOne: round(apiOne / raw),
      shareMany: round(apiMany / raw),
    }),
  );
}

if (process.argv[2] === '--server') void beServer(process.argv[3]!);
else void main();
