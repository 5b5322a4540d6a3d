import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber } from '../../../test/support/keeping.ts';
import { codesOf, DEMO_FILE, Terminal } from '../../../test/support/terminal.ts';
import { unwrap } from '../../problem/index.ts';
import { openStore } from '../../store/index.ts';

let terminal: Terminal;
beforeEach(async () => {
  terminal = new Terminal();
  await terminal.run(['import', DEMO_FILE]);
});
afterEach(() => terminal.clear());

const odd = { ...entryNumber(1), kind: 'strike', body: { entry: entryNumber(1).id, reason: 'itself' } } as never;
const newer = { ...entryNumber(2), v: 2 };

/** As another device would hand it in. */
async function handedIn(): Promise<void> {
  const store = unwrap(await openStore({ folder: join(terminal.folder, 'rigworthy') }));
  unwrap(await store.append([odd, { rig: 'marigold', id: newer.id, raw: newer }], { via: 'a device' }));
  await store.close();
}

describe('what was set aside', () => {
  it('is listed, told by check and sendoff, and rejected', async () => {
    expect((await terminal.run(['quarantine', 'list'])).out).toBe('Nothing is set aside.\n');
    await handedIn();
    const id = entryNumber(1).id;
    const told = await terminal.run(['quarantine', 'list', '--json']);
    expect(told.json()).toMatchObject({
      aside: [{ id, releasable: false, decision: null }],
      newer: [{ id: newer.id }],
    });
    const flat = (text: string) => text.replaceAll(/\s+/g, ' ');
    const check = await terminal.run(['check']);
    expect([check.code, flat(check.out)]).toEqual([0, expect.stringContaining(`quarantine reject ${id}`)]);
    expect(check.out).toContain('1 entry needs a newer version');
    expect(flat((await terminal.run(['sendoff', '--now', '2026-05-27'])).out)).toContain(
      '1 entry needs a newer version',
    );
    expect(codesOf(await terminal.run(['quarantine', 'release', id, '--yes', '--json']))).toEqual([
      'cli.not-releasable',
    ]);
    expect(codesOf(await terminal.run(['quarantine', 'reject', newer.id, '--yes', '--json']))).toEqual([
      'cli.not-set-aside',
    ]);
    const rejected = await terminal.run(['quarantine', 'reject', id, '--yes']);
    expect([rejected.code, rejected.err]).toEqual([0, '']);
    expect((await terminal.run(['quarantine', 'list', '--json'])).json()).toMatchObject({
      aside: [{ decision: 'reject' }],
    });
    // What cannot be read goes along as it came.
    const out = join(terminal.folder, 'book.jsonl');
    await terminal.run(['export', out]);
    expect(readFileSync(out, 'utf8')).toContain(JSON.stringify(newer));
  });
});
