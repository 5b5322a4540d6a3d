import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { mnemonicToSeedSync } from '@scure/bip39';
import { Decrypter, Encrypter, generateX25519Identity, identityToRecipient } from 'age-encryption';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber, Folder, pngNumber } from '../../../test/support/keeping.ts';
import { unwrap } from '../../problem/index.ts';
import { identityOf, makePhrase, openStore, readRecipient, recipientOf, restoreCopy, type Store } from '../index.ts';
import { drillDue, holdDrill, lastDrill } from './drill.ts';
import { decryptCopy, verifyEncrypted } from './encrypt.ts';
import { keepCopies } from './keeper.ts';
import { listCopies, makeCopy, newestGoodCopy } from './make.ts';

const NOON = Date.UTC(2026, 10, 12, 12);
const DAY = 86_400_000;
const via = { via: 'a test' };
const range = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => entryNumber(from + i));
/** From the test vectors of BIP-39 (github.com/trezor/python-mnemonic, vectors.json): entropy of nothing but zeros. */
const VECTOR = `${'abandon '.repeat(11)}about`;

describe('a recovery phrase', () => {
  it('is made by chance, and is the way to one identity', async () => {
    const phrases = new Set(Array.from({ length: 20 }, makePhrase));
    expect(phrases.size).toBe(20);
    for (const phrase of phrases) expect(phrase.split(' ').length).toBe(12);
    const [phrase] = [...phrases] as [string];
    const identity = unwrap(await identityOf(phrase));
    expect(identity).toMatch(/^AGE-SECRET-KEY-1[0-9A-Z]{58}$/);
    // As people type it.
    expect(unwrap(await identityOf(`  ${phrase.toUpperCase().replaceAll(' ', '\n ')}\n`))).toBe(identity);
    expect(unwrap(await identityOf(identity.toLowerCase()))).toBe(identity);
    expect(unwrap(readRecipient(await recipientOf(identity)))).toMatch(/^age1/);
  });

  it('stays what it was: the seed is that of BIP-39, and the recipient that of the phrase for ever', async () => {
    // The seed without a passphrase, from memory of the reference wallets' documentation.
    expect(Buffer.from(mnemonicToSeedSync(VECTOR)).toString('hex')).toMatch(/^5eb00bbddcf069084889a8ab91555681/);
    expect(await recipientOf(unwrap(await identityOf(VECTOR)))).toBe(
      'age19w9950fvlazcwk66p5gajwufm6s6pkte35lxe0vct029zwfqw9gs7fzqc8',
    );
  });

  it.each([
    'abandon',
    VECTOR.replace('about', 'abandon'),
    VECTOR.replace('abandon', 'abandom'),
    'AGE-SECRET-KEY-1ABC',
    '',
  ])('with a word wrong is told: %s', async (text) =>
    expect(await identityOf(text)).toMatchObject({ ok: false, problems: [{ code: 'store.phrase' }] }),
  );

  it.each(['age1', 'ssh-ed25519 AAAA', VECTOR, ''])('is no recipient: %s', (text) =>
    expect(readRecipient(text)).toMatchObject({ ok: false, problems: [{ code: 'store.recipient' }] }),
  );
});

describe('encrypted copies', () => {
  let folder: Folder;
  let copies: string;
  let store: Store;
  let identity: string;
  let recipient: string;
  const data = () => ({ folder: folder.file('data') });
  beforeEach(async () => {
    folder = new Folder();
    copies = folder.file('copies');
    store = unwrap(await openStore(data()));
    await store.append(range(0, 50), via);
    await store.putBlob('marigold', pngNumber(1, 200_000));
    identity = unwrap(await identityOf(makePhrase()));
    recipient = await recipientOf(identity);
  });
  afterEach(async () => {
    await store.close();
    folder.remove();
  });
  const photosIn = () => {
    const [of] = readdirSync(copies).filter((name) => name.startsWith('blobs-')) as [string];
    return readdirSync(join(copies, of), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.age'))
      .map((name) => join(copies, of, name));
  };

  it('hold nothing that can be read, are for nobody else to see, and come back whole with the key', async () => {
    const { file, report } = await makeCopy(store, copies, NOON, recipient);
    const everything = readdirSync(copies, { recursive: true, encoding: 'utf8', withFileTypes: true });
    for (const one of everything.filter((entry) => entry.isFile())) {
      const path = join(one.parentPath, one.name);
      expect(statSync(path).mode & 0o077).toBe(0);
      if (!path.endsWith('.json')) expect(readFileSync(path, 'latin1')).toMatch(/^age-encryption\.org\/v1\n/);
      expect(readFileSync(path, 'latin1')).not.toContain('reading 1');
    }
    const place = folder.file('clear');
    mkdirSync(place);
    const clear = unwrap(await decryptCopy(file, identity, place));
    await store.close();
    rmSync(data().folder, { recursive: true });
    expect(unwrap(await restoreCopy(clear, data(), NOON)).report).toEqual(report);
    store = unwrap(await openStore(data()));
    expect(await store.check()).toMatchObject({ ok: true, rigs: [{ entries: 50 }], blobs: { count: 1 } });
  });

  it('are refused with another key, and when a byte of them or of a photo is another', async () => {
    const { file } = await makeCopy(store, copies, NOON, recipient);
    const place = folder.file('clear');
    mkdirSync(place);
    const other = unwrap(await identityOf(makePhrase()));
    expect(await decryptCopy(file, other, place)).toMatchObject({
      ok: false,
      problems: [{ code: 'store.phrase-other' }],
    });
    for (const path of [file, photosIn()[0]!]) {
      const whole = readFileSync(path);
      for (let n = 0; n < 40; n++) {
        const flipped = Buffer.from(whole);
        const at = Math.floor((n / 40) * whole.length);
        flipped[at] = flipped[at]! ^ (1 << (n % 8));
        writeFileSync(path, flipped);
        expect(await verifyEncrypted(file)).toMatchObject({ ok: false, problems: [{ code: 'store.copy-changed' }] });
        expect((await decryptCopy(file, identity, place)).ok).toBe(false);
      }
      writeFileSync(path, whole);
    }
    expect((await verifyEncrypted(file)).ok).toBe(true);
  });

  it('encrypt a photo once, again where it was changed, and for each recipient apart', async () => {
    await makeCopy(store, copies, NOON, recipient);
    const [photo] = photosIn() as [string];
    const first = readFileSync(photo);
    await makeCopy(store, copies, NOON + DAY, recipient);
    expect(readFileSync(photo)).toEqual(first);
    writeFileSync(photo, first.subarray(0, 1000));
    const third = await makeCopy(store, copies, NOON + 2 * DAY, recipient);
    expect((await verifyEncrypted(third.file)).ok).toBe(true);
    await makeCopy(store, copies, NOON + 3 * DAY, await identityToRecipient(await generateX25519Identity()));
    expect(readdirSync(copies).filter((name) => name.startsWith('blobs-')).length).toBe(2);
    expect((await newestGoodCopy(copies, NOON + 3 * DAY)).copy).toMatchObject({
      madeAt: NOON + 3 * DAY,
      encrypted: true,
    });
    expect((await listCopies(copies, NOON + 3 * DAY)).length).toBe(4);
  });

  it('are made by themselves where a recipient is set, and leave nothing in clear behind', async () => {
    const keeper = keepCopies({
      store,
      folder: copies,
      recipient: async () => recipient,
      clock: () => NOON,
      onFailure: (error) => expect.unreachable(String(error)),
    });
    await keeper.first;
    await keeper.stop();
    expect((await listCopies(copies, NOON)).map(({ encrypted }) => encrypted)).toEqual([true]);
    expect(readdirSync(copies)).not.toContain('blobs');
  });

  it('are of the age format: another program reads them, and ours reads what another program wrote', async () => {
    const { file } = await makeCopy(store, copies, NOON, recipient);
    const decrypter = new Decrypter();
    decrypter.addIdentity(identity);
    const clear = await decrypter.decrypt(readFileSync(file));
    expect(Buffer.from(clear.subarray(0, 15)).toString()).toBe('SQLite format 3');
    // The age command (its reference implementation, FiloSottile/age), from the system's packages.
    const key = folder.file('key');
    writeFileSync(key, `${identity}\n`, { mode: 0o600 });
    const read = spawnSync('age', ['--decrypt', '-i', key, '-o', folder.file('by-age'), file], { encoding: 'utf8' });
    expect([read.status, read.stderr]).toEqual([0, '']);
    expect(readFileSync(folder.file('by-age')).equals(Buffer.from(clear))).toBe(true);
    expect(spawnSync('age-keygen', ['-y', key], { encoding: 'utf8' }).stdout.trim()).toBe(recipient);
    const made = spawnSync('age', [
      '-r',
      recipient,
      '-o',
      join(copies, 'rigworthy-2026-11-13T120000Z.sqlite.age'),
      folder.file('by-age'),
    ]);
    expect(made.status).toBe(0);
    mkdirSync(folder.file('clear'));
    unwrap(await decryptCopy(join(copies, 'rigworthy-2026-11-13T120000Z.sqlite.age'), identity, folder.file('clear')));
    expect(readFileSync(folder.file('clear/copy.sqlite')).equals(Buffer.from(clear))).toBe(true);
  });

  it('of two recipients come back with either', async () => {
    const encrypter = new Encrypter();
    encrypter.addRecipient(recipient);
    encrypter.addRecipient(await identityToRecipient(await generateX25519Identity()));
    const decrypter = new Decrypter();
    decrypter.addIdentity(identity);
    expect(await decrypter.decrypt(await encrypter.encrypt('words'), 'text')).toBe('words');
  });
});

describe('the restore drill', () => {
  let folder: Folder;
  let copies: string;
  let store: Store;
  beforeEach(async () => {
    folder = new Folder();
    copies = folder.file('copies');
    store = unwrap(await openStore({ folder: folder.file('data') }));
    await store.append(range(0, 50), via);
    await store.putBlob('marigold', pngNumber(1));
  });
  afterEach(async () => {
    await store.close();
    folder.remove();
  });
  const leftovers = () => readdirSync(copies).filter((name) => name.startsWith('drill-'));

  it('puts the newest copy back in a place of its own, says that it is whole, and clears up', async () => {
    await makeCopy(store, copies, NOON);
    expect(await holdDrill(copies, NOON + DAY)).toMatchObject({
      outcome: 'whole',
      what: 'The copy of Nov 12, 2026 comes back whole: 50 entries, 1 photos and papers',
    });
    expect(leftovers()).toEqual([]);
    expect((await lastDrill(copies))?.at).toBe('2026-11-13T12:00:00.000Z');
  });

  it('says when it does not come back', async () => {
    const { file } = await makeCopy(store, copies, NOON);
    const whole = readFileSync(file);
    writeFileSync(file, whole.subarray(0, whole.length / 2));
    expect(await holdDrill(copies, NOON)).toMatchObject({
      outcome: 'failed',
      what: expect.stringMatching(/^The copy of Nov 12, 2026 DOES NOT COME BACK: The data file is cut short/),
    });
    writeFileSync(file, whole);
    const hash = (await store.blobsOf('marigold'))[0]!.hash;
    rmSync(join(copies, 'blobs', hash.slice(0, 2), hash));
    expect(await holdDrill(copies, NOON)).toMatchObject({ outcome: 'failed' });
    expect(leftovers()).toEqual([]);
    expect(await holdDrill(folder.file('nothing'), NOON)).toMatchObject({ outcome: 'none', copy: null });
  });

  it('says of an encrypted copy what can be seen without the phrase, and with it that it is whole', async () => {
    const identity = unwrap(await identityOf(makePhrase()));
    const { file } = await makeCopy(store, copies, NOON, await recipientOf(identity));
    expect(await holdDrill(copies, NOON)).toMatchObject({
      outcome: 'as-made',
      what: expect.stringContaining('only the recovery phrase can show'),
    });
    expect(await holdDrill(copies, NOON, identity)).toMatchObject({ outcome: 'whole' });
    expect(await holdDrill(copies, NOON, unwrap(await identityOf(makePhrase())))).toMatchObject({ outcome: 'failed' });
    writeFileSync(file, readFileSync(file).subarray(0, -1));
    expect(await holdDrill(copies, NOON)).toMatchObject({ outcome: 'failed' });
    expect(leftovers()).toEqual([]);
  });

  it('is held by itself once a month, whatever the clock did meanwhile', async () => {
    const told: string[] = [];
    const at = async (now: number) => {
      const keeper = keepCopies({
        store,
        folder: copies,
        clock: () => now,
        onDrill: ({ what }) => told.push(what),
        onFailure: (error) => expect.unreachable(String(error)),
      });
      await keeper.first;
      await keeper.stop();
      return told.length;
    };
    expect(await at(NOON)).toBe(1);
    expect(await at(NOON + 29 * DAY)).toBe(1);
    expect(await at(NOON + 30 * DAY)).toBe(2);
    expect(await at(NOON + 4000 * DAY)).toBe(3);
    expect(await drillDue(copies, NOON + 31 * DAY)).toBe(true);
    expect(await at(NOON + 31 * DAY)).toBe(4);
    expect(told[0]).toMatch(/^The copy of Nov 12, 2026 comes back whole/);
  });
});
