import { mkdirSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, DEMO_FILE, Terminal } from '../../../test/support/terminal.ts';
import { unwrap } from '../../problem/index.ts';
import { openStore } from '../../store/index.ts';

let terminal: Terminal;
let data: string;
const demoText = readFileSync(DEMO_FILE, 'utf8');
const count = demoText.trimEnd().split('\n').length;

beforeEach(async () => {
  terminal = new Terminal();
  data = join(terminal.folder, 'rigworthy');
  await terminal.run(['import', DEMO_FILE]);
});
afterEach(() => terminal.clear());

const at = (minute: number) => ({ clock: () => Date.UTC(2026, 4, 27, 18, minute) });
const logbook = async (): Promise<string> => (await terminal.run(['export'])).out;
/** A copy, then one more entry in the logbook. */
const copyThenWrite = async (): Promise<string> => {
  const { file } = (await terminal.run(['backup', '--json'], at(0))).json<{ file: string }>();
  await terminal.run(['log', 'spare 65 psi', '--yes']);
  return file;
};

describe('backup and restore', () => {
  it('go back to the newest good copy, and keep what was there', async () => {
    const file = await copyThenWrite();
    expect(file).toBe(join(data, 'copies', 'rigworthy-2026-05-27T180000Z.sqlite'));
    const after = await logbook();
    expect(after).not.toBe(demoText);
    const ran = await terminal.run(['restore'], at(5));
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(ran.out).toContain(`Put back: marigold ${count} entries; 0 photos and papers.`);
    expect(ran.out).toContain('made on 2026-05-27 at 18:00 UTC');
    expect(await logbook()).toBe(demoText);
    const aside = /is kept: (\S+)\.$/m.exec(ran.out)![1]!;
    const kept = unwrap(await openStore({ folder: aside }));
    // The entry, and the statement that this machine signed about it.
    expect((await kept.rigs())[0]!.entries).toBe(count + 2);
    await kept.close();
  });

  it('say what changes about who may come in', async () => {
    const add = (name: string) =>
      terminal.run(['account', 'add', name, '--rig', 'marigold', '--password-stdin'], {
        input: 'oats and barley and rye\n',
      });
    expect((await terminal.run(['backup', '--json'], at(0))).code).toBe(0);
    await add('nell');
    const { file } = (await terminal.run(['backup', '--json'], at(1))).json<{ file: string }>();
    await terminal.run(['account', 'add', 'otis', '--rig', 'marigold', '--password-stdin'], {
      input: 'oats and barley and rye\n',
    });
    const flat = (text: string) => text.replaceAll(/\s+/g, ' ');
    const kept = await terminal.run(['restore'], at(5));
    expect(flat(kept.out)).toContain('Who may come in stays as it was here before: 2 accounts');
    const there = join(terminal.folder, 'new-machine');
    const copy = await terminal.run(['restore', '--from', file, '--data', there], at(6));
    expect(flat(copy.out)).toContain('This is a new place: 1 account with the passwords and roles of the copy.');
    truncateSync(join(data, 'rigworthy.sqlite'), 5000);
    const locked = await terminal.run(['restore', '--from', file, '--json'], at(7));
    expect(locked.json()).toMatchObject({ access: { kind: 'locked', people: 1 } });
    expect((await terminal.run(['account', 'list'])).out).toContain('locked');
    await terminal.run(['account', 'password', 'nell', '--password-stdin'], { input: 'rye and barley and oats\n' });
    expect((await terminal.run(['account', 'list'])).out).not.toContain('locked');
  });

  it('keep copies where --out says, and put them into an empty place', async () => {
    const out = join(terminal.folder, 'stick');
    const told = await terminal.run(['backup', '--out', out], at(0));
    expect(told.out).toMatch(/^Copied and read back whole: marigold 4\d\d entries/);
    const there = join(terminal.folder, 'new-machine');
    const ran = await terminal.run(['restore', '--from', out, '--data', there, '--json']);
    expect(ran.json()).toMatchObject({ rigs: [{ rig: 'marigold', entries: count }], replaced: null, passedOver: [] });
    expect((await terminal.run(['export', '--data', there])).out).toBe(demoText);
  });

  it('pass over a newer copy that is not good, and say so', async () => {
    await copyThenWrite();
    const cut = (await terminal.run(['backup', '--json'], at(1))).json<{ file: string }>().file;
    truncateSync(cut, 9000);
    const ran = await terminal.run(['restore', '--json'], at(5));
    expect(ran.json()).toMatchObject({ passedOver: [{ code: 'store.truncated', where: cut }] });
    expect(await logbook()).toBe(demoText);
    const named = await terminal.run(['restore', '--from', cut, '--json'], at(6));
    expect([named.code, codesOf(named)]).toEqual([2, ['store.truncated']]);
    expect(await logbook()).toBe(demoText);
  });

  it('mend a store that cannot be opened any more', async () => {
    await copyThenWrite();
    truncateSync(join(data, 'rigworthy.sqlite'), 5000);
    expect(codesOf(await terminal.run(['export', '--json']))).toEqual(['store.truncated']);
    const ran = await terminal.run(['restore'], at(5));
    expect(ran.code).toBe(0);
    expect(await logbook()).toBe(demoText);
  });

  it('put nothing back while a program has the data open', async () => {
    await copyThenWrite();
    const before = await logbook();
    const store = unwrap(await openStore({ folder: data }));
    await store.append([], { via: 'test' });
    await store.rigs();
    expect(codesOf(await terminal.run(['restore', '--json'], at(5)))).toEqual(['store.in-use']);
    await store.close();
    expect(await logbook()).toBe(before);
  });

  it('refuse what cannot be done, and change nothing', async () => {
    expect(codesOf(await terminal.run(['restore', '--json']))).toEqual(['cli.copy-none']);
    expect(codesOf(await terminal.run(['restore', '--from', 'gone', '--json']))).toEqual(['cli.copy-none']);
    const copies = join(data, 'copies');
    mkdirSync(copies);
    const ruin = join(copies, 'rigworthy-2026-05-26T180000Z.sqlite');
    writeFileSync(ruin, 'no copy at all');
    expect(codesOf(await terminal.run(['restore', '--json']))).toEqual(['store.foreign', 'cli.copy-none']);
    expect(codesOf(await terminal.run(['restore', '--from', DEMO_FILE, '--json']))).toEqual(['store.foreign']);
    const empty = join(terminal.folder, 'empty');
    expect(codesOf(await terminal.run(['backup', '--data', empty, '--json']))).toEqual(['cli.backup-empty']);
    expect(readdirSync(empty)).not.toContain('copies');
    expect(codesOf(await terminal.run(['backup', '--out', DEMO_FILE, '--json'], at(0)))).toEqual(['cli.folder']);
    expect(await logbook()).toBe(demoText);
  });

  it('take the newest by what copies hold where a clock was wrong, and name the doubtful one', async () => {
    const wrong = (await terminal.run(['backup', '--json'], { clock: () => Date.UTC(2036, 0, 1) })).json<{
      file: string;
    }>();
    await terminal.run(['log', 'spare 65 psi', '--yes']);
    await terminal.run(['backup'], at(0));
    const newest = await logbook();
    await terminal.run(['log', 'spare 66 psi', '--yes']);
    const ran = await terminal.run(['restore'], at(5));
    expect(ran.code).toBe(0);
    expect(ran.err.replaceAll(/\s+/g, ' ')).toContain(
      'Its name says 2036-01-01, which is still to come: a clock was wrong',
    );
    expect(ran.err).toContain(wrong.file);
    expect(await logbook()).toBe(newest);
  });

  it('encrypted to a recovery phrase come back with it, and not without', async () => {
    const asked: string[] = [];
    let words = '';
    const typing = await terminal.run(['recovery', 'new'], { answers: ['something else'] });
    expect([typing.code, (await terminal.run(['recovery', 'show'])).out]).toEqual([2, 'Copies are not encrypted.\n']);
    const made = await terminal.run(['recovery', 'new'], {
      answer: (question, shown) => {
        asked.push(question);
        words = [...shown.matchAll(/^ {4}.*$/gm)]
          .join(' ')
          .replaceAll(/[\d\s]+/g, ' ')
          .trim();
        return words;
      },
    });
    expect([made.code, asked]).toEqual([0, ['Type them from the paper: ']]);
    expect(words.split(' ').length).toBe(12);
    const everything = readdirSync(data, { recursive: true, encoding: 'utf8', withFileTypes: true }).filter((one) =>
      one.isFile(),
    );
    for (const one of everything) expect(readFileSync(join(one.parentPath, one.name), 'latin1')).not.toContain(words);

    const file = await copyThenWrite();
    expect(file).toMatch(/\.sqlite\.age$/);
    const nobody = await terminal.run(['restore', '--json'], at(5));
    expect([nobody.code, codesOf(nobody)]).toEqual([2, ['cli.phrase-needed']]);
    const wrong = await terminal.run(['restore'], { ...at(5), answers: [words.replace(/ \w+$/, '')] });
    expect([wrong.code, wrong.err]).toEqual([2, expect.stringContaining('A word of the recovery phrase is wrong')]);
    expect(await logbook()).not.toBe(demoText);
    expect((await terminal.run(['drill'], at(5))).out).toContain('is encrypted, and still what was read');
    expect((await terminal.run(['drill', '--phrase-file', '-'], { ...at(6), input: words })).out).toMatch(
      /comes\s+back\s+whole/,
    );
    expect((await terminal.run(['check'])).out).toMatch(/Restore drill of 2026-05-27: .*comes\s+back\s+whole/s);
    const ran = await terminal.run(['restore'], { ...at(7), answers: [words] });
    expect([ran.code, ran.err]).toEqual([0, 'Recovery phrase: ']);
    expect(await logbook()).toBe(demoText);
    writeFileSync(join(terminal.folder, 'phrase'), words);
    expect((await terminal.run(['restore', '--phrase-file', join(terminal.folder, 'phrase')], at(8))).code).toBe(0);
    await terminal.run(['recovery', 'off']);
    expect((await terminal.run(['backup', '--json'], at(9))).json()).toMatchObject({ encryptedTo: null });
    expect(codesOf(await terminal.run(['backup', '--to', 'age1', '--json'], at(10)))).toEqual(['store.recipient']);
    expect(codesOf(await terminal.run(['recovery', 'set', 'nobody', '--json']))).toEqual(['store.recipient']);
    expect(codesOf(await terminal.run(['recovery', 'new', '--json']))).toEqual(['cli.recovery-terminal']);
  });

  it.each([
    [['--database', 'mysql://here/x'], 'cli.database'],
    [['--database', 'postgres://here/x', '--data', 'x'], 'cli.two-places'],
  ])('refuse %j', async (more, code) =>
    expect(codesOf(await terminal.run(['restore', '--json', ...more]))).toEqual([code]),
  );
});
