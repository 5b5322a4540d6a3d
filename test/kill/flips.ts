/** One bit flipped in what is kept: it must be found, or do no harm. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { generateX25519Identity, identityToRecipient } from 'age-encryption';
import Sqlite from 'better-sqlite3';
import { unwrap } from '../../src/problem/index.ts';
import { verifyEncrypted } from '../../src/store/copies/encrypt.ts';
import { listCopies, makeCopy, openStore, verifyCopy } from '../../src/store/index.ts';
import { entryNumber, pngNumber } from '../support/keeping.ts';
import { fresh, NOW } from './bench.ts';
import { chanceOf } from './rounds.ts';

export const AREAS = ['database', 'wal', 'blobs', 'copies'] as const;
export type Area = (typeof AREAS)[number];
export type Outcome = 'found' | 'harmless';

/** Files to flip bits in, and what everything says when nothing is flipped. */
export interface FlipBench {
  readonly folder: string;
  readonly digests: ReadonlyMap<Area, string>;
}

const range = (from: number, to: number) => Array.from({ length: to - from }, (_, n) => entryNumber(from + n));

export async function makeFlipBench(folder: string): Promise<FlipBench> {
  const data = join(folder, 'flip-database');
  const store = unwrap(await openStore({ folder: data }, { passwordCost: 4 }));
  unwrap(await store.append(range(0, 600), { via: 'a test' }));
  for (let n = 0; n < 3; n++) unwrap(await store.putBlob('marigold', pngNumber(n, 20_000)));
  await store.close();
  const copies = join(folder, 'flip-copies');
  const again = unwrap(await openStore({ folder: data }));
  await makeCopy(again, copies, NOW);
  await makeCopy(again, copies, NOW + 1000, await identityToRecipient(await generateX25519Identity()));
  await again.close();
  // A program that is killed leaves its log.
  const wal = join(folder, 'flip-wal');
  cpSync(data, wal, { recursive: true });
  const room = new URL('./', import.meta.url).pathname;
  const script = `
    const { openStore } = await import('${room}../../src/store/index.ts');
    const { entryNumber } = await import('${room}../support/keeping.ts');
    const store = (await openStore({ folder: process.argv[1] })).value;
    for (let n = 600; n < 660; n++) await store.append([entryNumber(n)], { via: 'a test' });
    process.kill(process.pid, 'SIGKILL');`;
  spawnSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script, wal]);
  if (!existsSync(join(wal, 'rigworthy.sqlite-wal'))) throw new Error('there is no log to flip bits in');
  cpSync(data, join(folder, 'flip-blobs'), { recursive: true });
  const bench = { folder, digests: new Map<Area, string>() };
  for (const area of AREAS) {
    if (area === 'copies') continue;
    const place = fresh(join(folder, `flip-${area}`), join(folder, 'flipped'));
    bench.digests.set(area, unwrapFound(await lookedInto(place)));
  }
  return bench;
}

function unwrapFound(digest: string | undefined): string {
  if (digest === undefined) throw new Error('what nobody flipped a bit in is not whole');
  return digest;
}

function filesOf(area: Area, place: string): string[] {
  const names = readdirSync(place, { recursive: true, encoding: 'utf8' }).filter((name) =>
    statSync(join(place, name)).isFile(),
  );
  const wanted = {
    database: /rigworthy\.sqlite$/,
    wal: /-wal$/,
    blobs: /^blobs\//,
    copies: /./,
  }[area];
  return names.filter((name) => wanted.test(name)).sort();
}

/** Everything that is kept, read through the store and from every table; undefined where something was found. */
async function lookedInto(place: string): Promise<string | undefined> {
  const opened = await openStore({ folder: place });
  if (!opened.ok) return undefined;
  const store = opened.value;
  try {
    const report = await store.check();
    if (!report.ok) return undefined;
    const hash = createHash('sha256').update(JSON.stringify([report.rigs, report.blobs]));
    const db = new Sqlite(join(place, 'rigworthy.sqlite'), { readonly: true });
    const tables = db
      .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")
      .pluck()
      .all() as string[];
    for (const table of tables) {
      const rows = db.prepare(`SELECT * FROM "${table}"`).raw().all() as unknown[][];
      // The epoch of a rig is by chance: of another one readers start over, and lose nothing.
      if (table === 'rigs') hash.update(JSON.stringify(rows.map(([rig, , head]) => [rig, head])));
      else hash.update(`${table} ${JSON.stringify(rows.sort())}`);
    }
    db.close();
    return hash.digest('hex');
  } catch {
    return undefined;
  } finally {
    await store.close();
  }
}

/** A copy that is named as whole although a bit of it is another. */
async function areCopiesFound(place: string, flipped: string): Promise<boolean> {
  const copies = await listCopies(place, NOW + 2000);
  if (copies.length < 2) return true;
  let all = true;
  for (const { file, encrypted } of copies)
    all = (await (encrypted ? verifyEncrypted(file) : verifyCopy(file))).ok && all;
  // What stands beside a copy is only words about it: of a copy in clear they are compared with the copy.
  return !all || flipped.endsWith('.json');
}

/** Flips one bit, the same for the same seed and number. Throws where it is neither found nor harmless. */
export async function flip(area: Area, number: number, seed: number, bench: FlipBench): Promise<Outcome> {
  const place = fresh(join(bench.folder, `flip-${area}`), join(bench.folder, 'flipped'));
  mkdirSync(place, { recursive: true });
  const files = filesOf(area, place);
  const name = files[Math.floor(chanceOf(seed, area, number, 'file') * files.length)]!;
  const path = join(place, name);
  const bytes = readFileSync(path);
  const bit = Math.floor(chanceOf(seed, area, number, 'bit') * bytes.length * 8);
  bytes[bit >> 3] = bytes[bit >> 3]! ^ (1 << (bit & 7));
  writeFileSync(path, bytes);
  const at = `${area}, flip ${number}, seed ${seed}: bit ${bit} of ${name}`;
  if (area === 'copies') {
    if (await areCopiesFound(place, name)) return name.endsWith('.json') ? 'harmless' : 'found';
    throw new Error(`${at} was not found`);
  }
  const digest = await lookedInto(place);
  if (digest === undefined) return 'found';
  if (digest === bench.digests.get(area)) return 'harmless';
  throw new Error(`${at} changed what is kept, and nothing finds it`);
}
