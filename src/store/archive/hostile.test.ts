import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { createWriteStream, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import yazl from 'yazl';
import { entryNumber, Folder, pngNumber } from '../../../test/support/keeping.ts';
import { writeEntry } from '../../logbook/index.ts';
import { unwrap } from '../../problem/index.ts';
import { importArchive, makeArchive, openStore, type Store } from '../index.ts';
import { LIMITS } from './limits.ts';

const via = { via: 'a test' };
const sum = (content: Uint8Array | string) => createHash('sha256').update(content).digest('hex');
const LINE = `${writeEntry(entryNumber(1))}\n`;
const ABOUT = {
  format: 'rigworthy-archive',
  version: 1,
  rig: 'marigold',
  madeAt: '2026-06-12T00:00:00.000Z',
  entries: 1,
  logbook: sum(LINE),
  places: 'kept',
  photos: [] as { hash: string; type: string; file: string; sha256: string }[],
  withheld: [],
};

let folder: Folder;
let store: Store;
const temporary = process.env.TMPDIR;
beforeEach(async () => {
  folder = new Folder();
  mkdirSync(folder.file('tmp'));
  process.env.TMPDIR = folder.file('tmp');
  store = unwrap(await openStore({ folder: folder.file('data') }));
});
afterEach(async () => {
  await store.close();
  if (temporary === undefined) delete process.env.TMPDIR;
  else process.env.TMPDIR = temporary;
  folder.remove();
});

interface Part {
  readonly name: string;
  /** Or how many bytes of nothing. */
  readonly content: Buffer | string | number;
}

async function zipOf(...parts: Part[]): Promise<string> {
  const file = folder.file('hostile.zip');
  const zip = new yazl.ZipFile();
  const written = pipeline(zip.outputStream, createWriteStream(file));
  for (const { name, content } of parts) {
    const pieces = function* () {
      for (let left = content as number; left > 0; left -= 1 << 20) yield Buffer.alloc(Math.min(left, 1 << 20));
    };
    if (typeof content === 'number') zip.addReadStream(Readable.from(pieces(), { objectMode: false }), name);
    else zip.addBuffer(Buffer.from(content), name);
  }
  zip.end();
  await written;
  return file;
}

const about = (more: Partial<typeof ABOUT> = {}): Part => ({
  name: 'about.json',
  content: JSON.stringify({ ...ABOUT, ...more }),
});
const book: Part = { name: 'logbook.jsonl', content: LINE };
const photoName = (n: number) => `photos/${n.toString(16).padStart(64, '0')}.png`;

/** Refused in moments (a busy machine allowed for), with nothing kept and nothing left in the temporary folder. */
async function refused(file: string, code: string, what: RegExp): Promise<void> {
  const started = performance.now();
  const done = await importArchive(store, file, via);
  expect(performance.now() - started).toBeLessThan(5000);
  expect(done).toMatchObject({ ok: false, problems: [{ code }] });
  if (!done.ok) expect(done.problems[0]!.what).toMatch(what);
  expect(await store.rigs()).toEqual([]);
  expect(readdirSync(folder.file('tmp'))).toEqual([]);
}

describe('a hostile archive', () => {
  it('that is none comes in', async () => {
    expect(unwrap(await importArchive(store, await zipOf(about(), book), via))).toMatchObject({ added: 1 });
    expect(readdirSync(folder.file('tmp'))).toEqual([]);
  });

  it.each([
    ['a logbook that grows a thousandfold', { name: 'logbook.jsonl', content: 60 << 20 }, /more than 200 times/],
    ['an account of itself that grows', { name: 'about.json', content: 20 << 20 }, /at most 16777216/],
    ['a photo that is larger than is kept', { name: photoName(1), content: 13 << 20 }, /at most 12582912/],
    ['a file that does not belong there', { name: 'photos/logbook.jsonl', content: 'x' }, /does not belong/],
    ['a photo of a strange name', { name: 'photos/cat.png', content: 'x' }, /does not belong/],
  ])('is refused before it is unpacked: %s', async (_, part, what) => {
    const others = [about(), book].filter(({ name }) => name !== part.name);
    await refused(await zipOf(...others, part), 'store.archive-unsafe', what);
  });

  it('with more files than a rig has', async () => {
    const file = await zipOf(about(), book, { name: photoName(0), content: Buffer.from(pngNumber(0)) });
    writeFileSync(file, withSharedPart(readFileSync(file), LIMITS.parts));
    await refused(file, 'store.archive-damaged', /more than 10002 files/);
  });

  it('whose photos share the same bytes', async () => {
    const file = await zipOf(about(), book, { name: photoName(0), content: 11 << 20 });
    writeFileSync(file, withSharedPart(readFileSync(file), 1000));
    await refused(file, 'store.archive-unsafe', /It would grow by more than 200 times/);
  });

  it('that lists one photo many times', async () => {
    const png = pngNumber(1);
    const listed = { hash: sum(png), type: 'image/png', file: photoName(0), sha256: sum(png) };
    const photos = Array.from({ length: 50_000 }, () => listed);
    const file = await zipOf(about({ photos }), book, { name: photoName(0), content: Buffer.from(png) });
    await refused(file, 'store.archive-damaged', /listed twice/);
  });

  it('whose directory says less than there is', async () => {
    const file = await zipOf(about(), { name: 'logbook.jsonl', content: 60 << 20 });
    writeFileSync(file, withSize(readFileSync(file), 'logbook.jsonl', 300));
    await refused(file, 'store.archive-damaged', /cannot be read whole/);
  });

  it.each(['../evil', '/tmp/evil', 'photos/../../evil', 'C:/evil', 'photos\\..\\evil'])(
    'that wants to be unpacked elsewhere: %s',
    async (name) => {
      const file = folder.file('hostile.zip');
      // Python's zipfile writes any name.
      const script =
        'import sys, zipfile\nz = zipfile.ZipFile(sys.argv[1], "w")\nz.writestr(sys.argv[2], "x")\nz.close()';
      execFileSync('python3', ['-c', script, file, name]);
      await refused(file, 'store.archive-damaged', /./);
      expect(readdirSync(folder.path).sort()).toEqual(['data', 'hostile.zip', 'tmp']);
    },
  );

  it('made of a logbook whose lines are much alike comes back nevertheless', async () => {
    const entries = Array.from({ length: 9000 }, (_, n) => entryNumber(n, 'marigold', 'and '.repeat(495)));
    unwrap(await store.bringIn(() => [entries], via));
    const made = await makeArchive(store, { rig: 'marigold', withPlaces: true, now: 0 });
    // Put in as it is: packed it would be some thousandths of that.
    expect(statSync(made.file).size).toBeGreaterThan(LIMITS.ratioFromBytes);
    const other = unwrap(await openStore({ folder: folder.file('other') }));
    expect(unwrap(await importArchive(other, made.file, via))).toMatchObject({ added: 9000 });
    await other.close();
    await made.remove();
    expect(readdirSync(folder.file('tmp'))).toEqual([]);
  });

  it('whose reader was killed leaves nothing behind for long', async () => {
    const temporaryRoom = fileURLToPath(new URL('../temporary.ts', import.meta.url));
    const script = `const { temporaryFolder } = await import(${JSON.stringify(temporaryRoom)}); await temporaryFolder('archive'); process.kill(process.pid, 'SIGKILL');`;
    spawnSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script]);
    expect(readdirSync(folder.file('tmp')).filter((name) => name.startsWith('rigworthy-archive-')).length).toBe(1);
    mkdirSync(folder.file('tmp/rigworthy-archive-of-somebody'));
    unwrap(await importArchive(store, await zipOf(about(), book), via));
    expect(readdirSync(folder.file('tmp')).filter((name) => name.startsWith('rigworthy-'))).toEqual([
      'rigworthy-archive-of-somebody',
    ]);
  });
});

/** ZIP file format, APPNOTE 6.3.10, sections 4.3.12 (directory entry) and 4.3.16 (its end). */
const DIRECTORY = Buffer.from('PK\x01\x02', 'latin1');
const END = Buffer.from('PK\x05\x06', 'latin1');

/** The directory's last entry `times` more, each under a name of its own. */
function withSharedPart(zip: Buffer, times: number): Buffer {
  const end = zip.lastIndexOf(END);
  const last = zip.lastIndexOf(DIRECTORY, end);
  const more = Array.from({ length: times }, (_, n) => {
    const entry = Buffer.from(zip.subarray(last, end));
    entry.write(photoName(n + 1), 46, 'latin1');
    return entry;
  });
  const tail = Buffer.from(zip.subarray(end));
  const count = tail.readUInt16LE(8) + times;
  tail.writeUInt16LE(count, 8);
  tail.writeUInt16LE(count, 10);
  tail.writeUInt32LE(tail.readUInt32LE(12) + times * (end - last), 12);
  return Buffer.concat([zip.subarray(0, end), ...more, tail]);
}

/** The directory's word on a part's unpacked size, changed. */
function withSize(zip: Buffer, name: string, bytes: number): Buffer {
  const at = zip.lastIndexOf(name) - 46;
  expect(zip.subarray(at, at + 4)).toEqual(DIRECTORY);
  zip.writeUInt32LE(bytes, at + 24);
  return zip;
}
