import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, DEMO_FILE, Terminal } from '../../../test/support/terminal.ts';
import type { SendOff } from '../../sendoff/index.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

const demoText = readFileSync(DEMO_FILE, 'utf8');
const demoLines = demoText.trimEnd().split('\n');

describe('log', () => {
  const entries = async (): Promise<number> =>
    (await terminal.run(['export'])).out
      .trimEnd()
      .split('\n')
      .filter((line) => !line.includes('"kind":"witness"')).length;
  beforeEach(async () => {
    await terminal.run(['import', DEMO_FILE]);
  });

  it('shows what it understood, asks, and writes', async () => {
    const ran = await terminal.run(['log', 'spare', '65', 'psi,', '12', 'C'], { answers: ['y'] });
    expect(ran.code).toBe(0);
    expect(ran.out).toContain(
      'Understood: Read on Wed 27 May 2026: pressure cold of the spare tire at rear\nbumper is 65 psi at 12 °C.',
    );
    expect(ran.err).toContain('Write it down?');
    expect(await entries()).toBe(demoLines.length + 1);
    const after = (await terminal.run(['sendoff', '--json'])).json<SendOff>();
    expect(
      after.findings.filter((finding) => finding.id === 'tires/pressure@spare' && finding.kind === 'stop'),
    ).toEqual([]);
  });

  it('writes nothing on a no', async () => {
    expect(await terminal.run(['log', 'spare 65 psi'], { answers: ['n'] })).toMatchObject({
      code: 2,
      err: expect.stringContaining('Nothing was written'),
    });
    expect(await entries()).toBe(demoLines.length);
  });

  it('writes nothing where nobody can confirm it', async () => {
    const ran = await terminal.run(['log', 'spare 65 psi']);
    expect(ran.code).toBe(2);
    expect(ran.out).toContain('Understood:');
    expect(ran.err).toContain('--yes');
    expect((await terminal.run(['log', 'spare 65 psi', '--json'])).json()).toMatchObject({
      written: false,
      entries: [{ kind: 'reading' }],
    });
    expect(await entries()).toBe(demoLines.length);
  });

  it('writes unasked with --yes, signed by whoever says so', async () => {
    const ran = await terminal.run(['log', 'tested breakaway', '--yes', '--by', 'Otis', '--json']);
    expect(ran.json()).toMatchObject({
      written: true,
      entries: [{ kind: 'work', by: 'Otis', on: '2026-05-27', rig: 'marigold' }],
    });
  });

  it.each([
    ['odometer 12', 'logbook.odometer-backwards'],
    ['on 2026-07-01 tested breakaway', 'logbook.future'],
    ['teapot 12 psi', 'sentence.words-unknown'],
    ['battery 12.6 V', 'sentence.ambiguous'],
  ])('refuses “%s” and writes nothing', async (sentence, code) => {
    const ran = await terminal.run(['log', sentence, '--yes', '--json']);
    expect(ran.code).toBe(2);
    expect(codesOf(ran)).toEqual([code]);
    expect(await entries()).toBe(demoLines.length);
  });

  it('agrees with later entries, too, when it is told about an earlier day', async () => {
    const ran = await terminal.run(['log', 'odometer 64,119', '--now', '2026-05-20', '--yes', '--json']);
    expect(ran.code).toBe(0);
    const beyond = await terminal.run(['log', 'odometer 64,121', '--now', '2026-05-20', '--yes', '--json']);
    expect(codesOf(beyond)).toEqual(['logbook.odometer-backwards']);
  });
});
