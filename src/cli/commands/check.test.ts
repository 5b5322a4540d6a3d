import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { DEMO_FILE, Terminal } from '../../../test/support/terminal.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

describe('check', () => {
  it('finds the demo whole, and shows its one disagreement', async () => {
    const ran = await terminal.run(['check', '--demo', '--json']);
    expect(ran.code).toBe(0);
    expect(ran.json()).toMatchObject({ ok: true, odd: [{ code: 'check.disagreement' }] });
  });

  it('ends with 1 on damage', async () => {
    await terminal.run(['import', DEMO_FILE]);
    const store = join(terminal.folder, 'rigworthy', 'rigworthy.sqlite');
    const bytes = readFileSync(store);
    bytes.write('X', bytes.indexOf('Methow'));
    writeFileSync(store, bytes);
    const ran = await terminal.run(['check']);
    expect([ran.code, ran.out]).toEqual([1, expect.stringContaining('DAMAGED')]);
  });

  it('looks over the catalog', async () => {
    const ran = await terminal.run(['catalog', 'check', '--json']);
    expect(ran.json<{ upkeeps: number }>().upkeeps).toBeGreaterThan(100);
    expect(ran.code).toBe(ran.json<{ doubts: unknown[] }>().doubts.length ? 1 : 0);
  });
});
