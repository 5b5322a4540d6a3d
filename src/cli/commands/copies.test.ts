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
    expect((await kept.rigs())[0]!.entries).toBe(count + 1);
    await kept.close();
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

  it.each([
    [['--database', 'mysql://here/x'], 'cli.database'],
    [['--database', 'postgres://here/x', '--data', 'x'], 'cli.two-places'],
  ])('refuse %j', async (more, code) =>
    expect(codesOf(await terminal.run(['restore', '--json', ...more]))).toEqual([code]),
  );
});
