import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import Sqlite from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { entryNumber, Folder } from '../../../test/support/keeping.ts';
import { unwrap } from '../../problem/index.ts';
import { openStore } from '../index.ts';
import { isLogDamaged } from './wal.ts';

/** A frame of a log of 4,096-byte pages, which is SQLite's default. */
const FRAME_BYTES = 24 + 4096;
const HEADER_BYTES = 32;

describe('the write-ahead log of a program that was killed', () => {
  let folder: Folder;
  let log: Buffer;
  /** What was in the file and in its log when the power went. */
  const place = (content: Buffer): string => {
    const data = folder.file('after');
    mkdirSync(data, { recursive: true });
    copyFileSync(folder.file('killed.sqlite'), `${data}/rigworthy.sqlite`);
    writeFileSync(`${data}/rigworthy.sqlite-wal`, content);
    return data;
  };
  const opened = async (content: Buffer) => {
    const result = await openStore({ folder: place(content) });
    if (!result.ok) return result.problems[0]!.code;
    const report = await result.value.check();
    await result.value.close();
    expect(report.ok).toBe(true);
    return report.rigs[0]?.entries ?? 0;
  };
  beforeAll(async () => {
    folder = new Folder();
    const data = folder.file('data');
    const first = unwrap(await openStore({ folder: data }));
    for (let n = 0; n < 20; n++) await first.append([entryNumber(n)], { via: 'a test' });
    await first.close();
    const store = unwrap(await openStore({ folder: data }));
    for (let n = 20; n < 32; n++) await store.append([entryNumber(n)], { via: 'a test' });
    copyFileSync(`${data}/rigworthy.sqlite`, folder.file('killed.sqlite'));
    log = readFileSync(`${data}/rigworthy.sqlite-wal`);
    await store.close();
    expect((log.length - HEADER_BYTES) % FRAME_BYTES).toBe(0);
    expect(await opened(log)).toBe(32);
  });
  afterAll(() => folder.remove());

  it('cut short anywhere is what a power cut leaves: what was written whole is there', async () => {
    const seen = new Set<number>();
    for (let n = 0; n <= 24; n++) {
      const found = await opened(log.subarray(0, Math.floor((log.length * n) / 24)));
      expect(found).toBeTypeOf('number');
      seen.add(found as number);
    }
    expect(Math.min(...seen)).toBe(20);
    expect(Math.max(...seen)).toBe(32);
    expect(seen.size).toBeGreaterThan(6);
  });

  it('whose last frame was half written is no damage', async () => {
    for (const bytes of [100, 512, 1024, 3000]) {
      const torn = Buffer.from(log);
      torn.fill(0, torn.length - bytes);
      expect(await opened(torn)).toBeTypeOf('number');
    }
  });

  it('is refused with any one bit another: in its header, in the middle, and in the last frame', async () => {
    const last = log.length - FRAME_BYTES;
    const bits: number[] = [];
    for (let bit = 0; bit < HEADER_BYTES * 8; bit++) bits.push(bit);
    for (let n = 0; n < 150; n++)
      bits.push((HEADER_BYTES + Math.floor(((last - HEADER_BYTES) * n) / 150)) * 8 + (n % 8));
    for (let bit = 0; bit < 24 * 8; bit++) bits.push(last * 8 + bit);
    for (let n = 0; n < 150; n++) bits.push((last + 24 + Math.floor((4096 * n) / 150)) * 8 + (n % 8));
    const file = folder.file('flipped-wal');
    const missed: number[] = [];
    for (const bit of bits) {
      const flipped = Buffer.from(log);
      flipped[bit >> 3] = flipped[bit >> 3]! ^ (1 << (bit & 7));
      writeFileSync(file, flipped);
      if (!isLogDamaged(file)) missed.push(bit);
    }
    expect(missed).toEqual([]);
    const flipped = Buffer.from(log);
    flipped[log.length - 1000] = flipped[log.length - 1000]! ^ 4;
    expect(await opened(flipped)).toBe('store.damaged');
  });

  it('begun anew over an older one is whole', async () => {
    const data = folder.file('data');
    const store = unwrap(await openStore({ folder: data }));
    for (let n = 40; n < 70; n++) await store.append([entryNumber(n)], { via: 'a test' });
    const other = new Sqlite(`${data}/rigworthy.sqlite`);
    other.pragma('wal_checkpoint(RESTART)');
    other.close();
    await store.append([entryNumber(80)], { via: 'a test' });
    const restarted = readFileSync(`${data}/rigworthy.sqlite-wal`);
    expect(restarted.length).toBeGreaterThan(20 * FRAME_BYTES);
    writeFileSync(folder.file('restarted-wal'), restarted);
    expect(isLogDamaged(folder.file('restarted-wal'))).toBe(false);
    await store.close();
  });
});
