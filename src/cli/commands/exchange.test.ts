import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, DEMO_FILE, Terminal } from '../../../test/support/terminal.ts';
import type { Entry } from '../../logbook/index.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

const demoText = readFileSync(DEMO_FILE, 'utf8');
const demoLines = demoText.trimEnd().split('\n');

/** A file in the terminal's folder. */
function file(name: string, text: string): string {
  const path = join(terminal.folder, name);
  writeFileSync(path, text);
  return path;
}

describe('import and export', () => {
  it('bring a logbook in and out without loss, twice without harm', async () => {
    expect(await terminal.run(['import', DEMO_FILE])).toMatchObject({
      code: 0,
      out: `Imported ${demoLines.length} entries of marigold.\n`,
    });
    expect((await terminal.run(['export'])).out).toBe(demoText);
    expect((await terminal.run(['import', '-', '--json'], { input: demoText })).json()).toMatchObject({
      added: 0,
      known: demoLines.length,
    });
    const out = join(terminal.folder, 'out.jsonl');
    expect((await terminal.run(['export', out])).code).toBe(0);
    expect(readFileSync(out, 'utf8')).toBe(demoText);
    expect(codesOf(await terminal.run(['export', out, '--json']))).toEqual(['cli.file-there']);
    expect((await terminal.run(['export', '--csv'])).out.split('\r\n')[0]).toContain('date');
  });

  const changed = (change: (entry: Entry & { body: Record<string, unknown> }) => object): string => {
    const entry = JSON.parse(demoLines.at(-1)!);
    return `${JSON.stringify({ ...entry, ...change(entry) })}\n`;
  };
  it.each([
    ['a torn line', () => demoText.slice(0, -40), 'logbook.json-torn'],
    [
      'a newer logbook',
      () => demoText + changed(() => ({ id: '01KZZZZZZZZZZZZZZZZZZZZZZ0', v: 2 })),
      'logbook.entry-newer',
    ],
    [
      'an odometer that goes backwards',
      () => demoText + changed((e) => ({ id: '01KZZZZZZZZZZZZZZZZZZZZZZ0', body: { ...e.body, value: '12 mi' } })),
      'logbook.odometer-backwards',
    ],
    [
      'work in the future',
      () =>
        demoText +
        changed(() => ({
          id: '01KZZZZZZZZZZZZZZZZZZZZZZ0',
          on: '2026-07-01',
          kind: 'work',
          body: { done: [{ upkeep: 'test-breakaway', part: 'breakaway-switch', outcome: 'good' }] },
        })),
      'logbook.future',
    ],
    [
      'an unknown part',
      () =>
        demoText +
        changed(() => ({
          id: '01KZZZZZZZZZZZZZZZZZZZZZZ0',
          kind: 'reading',
          body: { part: 'teapot', what: 'pressure-cold', value: '1 psi' },
        })),
      'logbook.part-unknown',
    ],
    ['nothing at all', () => '\n', 'cli.import-empty'],
  ])('refuse %s whole', async (_name, text, code) => {
    const ran = await terminal.run(['import', file('bad.jsonl', text()), '--json']);
    expect(ran.code).toBe(2);
    expect(codesOf(ran)).toContain(code);
    expect(ran.err).not.toBe('');
    expect(codesOf(await terminal.run(['export', '--json']))).toEqual(['cli.rig-none']);
  });

  it('take in as they are what was kept elsewhere, and tell it', async () => {
    const odd = demoText + changed((e) => ({ id: '01KZZZZZZZZZZZZZZZZZZZZZZ0', body: { ...e.body, value: '12 mi' } }));
    const ran = await terminal.run(['import', file('odd.jsonl', odd), '--as-is']);
    expect(ran.code).toBe(0);
    expect(ran.err).toContain('backwards');
  });

  it('say when the file is not there', async () => {
    expect(codesOf(await terminal.run(['import', 'gone.jsonl', '--json']))).toEqual(['cli.file-unreadable']);
  });
});
