import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { photoWithPlace } from '../../../test/support/photos.ts';
import { codesOf, DEMO_FILE, Terminal } from '../../../test/support/terminal.ts';
import type { Entry } from '../../logbook/index.ts';
import { unwrap } from '../../problem/index.ts';
import { openStore } from '../../store/index.ts';

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

  it('carry photos in an archive: without their places for others, whole with --with-places', async () => {
    await terminal.run(['import', DEMO_FILE]);
    const photo = await photoWithPlace('image/jpeg');
    const store = unwrap(await openStore({ folder: join(terminal.folder, 'rigworthy') }));
    const { hash } = unwrap(await store.putBlob('marigold', photo));
    await store.close();
    const [shown, own] = [join(terminal.folder, 'shown.zip'), join(terminal.folder, 'own.zip')];
    expect((await terminal.run(['export', shown])).out).toContain('Where the photos were taken is not in it');
    expect((await terminal.run(['export', own, '--with-places', '--json'])).json()).toMatchObject({
      entries: demoLines.length,
      photos: 1,
      places: true,
      withheld: [],
    });
    expect(codesOf(await terminal.run(['export', own, '--json']))).toEqual(['cli.file-there']);
    const elsewhere = ['--data', join(terminal.folder, 'elsewhere')];
    const first = await terminal.run(['import', shown, ...elsewhere]);
    expect(first).toMatchObject({ code: 0, err: '' });
    expect(first.out).toContain('0 photos and papers came with it; 1 did not');
    expect((await terminal.run(['import', own, ...elsewhere, '--json'])).json()).toMatchObject({
      added: 0,
      known: demoLines.length,
      photos: 1,
      photosMissing: 0,
    });
    const other = unwrap(await openStore({ folder: join(terminal.folder, 'elsewhere') }));
    expect((await other.getBlob('marigold', hash))!.content).toEqual(photo);
    await other.close();
    expect(codesOf(await terminal.run(['import', file('torn.zip', 'PK'), '--json']))).toEqual([
      'store.archive-damaged',
    ]);
  });

  it('say when the file is not there', async () => {
    expect(codesOf(await terminal.run(['import', 'gone.jsonl', '--json']))).toEqual(['cli.file-unreadable']);
  });
});
