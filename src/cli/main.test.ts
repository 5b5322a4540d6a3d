import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, DEMO_FILE, Terminal, widest } from '../../test/support/terminal.ts';
import type { SendOff } from '../sendoff/index.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

const demoText = readFileSync(DEMO_FILE, 'utf8');

/** A file in the terminal's folder. */
function file(name: string, text: string): string {
  const path = join(terminal.folder, name);
  writeFileSync(path, text);
  return path;
}

describe('an enrolled rig with an empty logbook', () => {
  const line = (id: string, kind: string, body: object): string =>
    JSON.stringify({
      id: `01K000000000000000000000${id}`,
      rig: 'new',
      kind,
      on: '2026-05-01',
      at: '2026-05-01T10:00:00Z',
      by: 'Nell',
      v: 1,
      body,
    });
  const enrolled = [
    line('01', 'enroll', { vehicle: 'trailer', name: 'New', axles: 2 }),
    line('02', 'enroll', { vehicle: 'tow', name: 'Old' }),
  ];
  const trip = line('03', 'trip', {
    trip: 'first',
    name: 'First',
    leave: '2026-06-12',
    return: '2026-06-14',
    miles: '100 mi',
    chance: 1,
  });

  it('holds: everything is unproven, and the first step is offered', async () => {
    await terminal.run(['import', file('new.jsonl', [...enrolled, trip].join('\n'))]);
    const answer = (await terminal.run(['sendoff', '--json'])).json<SendOff>();
    expect(answer.judgement).toBe('hold');
    expect(
      answer.findings.filter(
        (finding) => finding.severity === 'safety' && finding.kind === 'pass' && finding.upkeep !== null,
      ),
    ).toEqual([]);
    expect(answer.findings.some((finding) => finding.kind === 'unproven')).toBe(true);
    expect(answer.firstStep).toBeTruthy();
    expect((await terminal.run(['sendoff'])).out).toContain('Begin with:');
  });

  it('has nothing to send off before a trip is planned', async () => {
    await terminal.run(['import', file('new.jsonl', enrolled.join('\n'))]);
    expect(codesOf(await terminal.run(['sendoff', '--json']))).toEqual(['desk.no-trip']);
    expect((await terminal.run(['outlook'])).out).toContain('No trip is planned');
  });
});

describe('which rig', () => {
  it('says when there is none, several, or not that one', async () => {
    expect(codesOf(await terminal.run(['outlook', '--json']))).toEqual(['cli.rig-none']);
    await terminal.run(['import', DEMO_FILE]);
    await terminal.run(['import', '-', '--as-is'], {
      input: demoText.replaceAll('"rig":"marigold"', '"rig":"second"'),
    });
    expect(codesOf(await terminal.run(['outlook', '--json']))).toEqual(['cli.rig-many']);
    expect(codesOf(await terminal.run(['outlook', '--json', '--rig', 'third']))).toEqual(['cli.rig-unknown']);
    expect((await terminal.run(['outlook', '--json', '--rig', 'second'])).code).toBe(0);
  });

  it('keeps the data where --data says', async () => {
    await terminal.run(['import', DEMO_FILE, '--data', join(terminal.folder, 'here')]);
    expect(readdirSync(join(terminal.folder, 'here'))).toContain('rigworthy.sqlite');
    expect(codesOf(await terminal.run(['outlook', '--json']))).toEqual(['cli.rig-none']);
    expect(codesOf(await terminal.run(['outlook', '--json', '--data', 'x', '--demo']))).toEqual(['cli.demo-and-data']);
  });
});

describe('the program', () => {
  it.each([
    [[]],
    [['dance']],
    [['outlook', '--loud']],
    [['log']],
    [['sendoff', '--demo', '--now', 'soon']],
    [['sendoff', '--demo', '--now', '2026-02-30']],
  ])('refuses %j with 2', async (argv) => {
    const ran = await terminal.run(argv);
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).not.toBe('');
  });

  it.each([[['--help']], [['--version']], [['sendoff', '--help']]])('answers %j with 0', async (argv) => {
    const ran = await terminal.run(argv);
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(widest(ran.out)).toBeLessThanOrEqual(80);
  });

  it('calls its own mistakes mistakes', async () => {
    const clock = (): number => {
      throw new Error('broken');
    };
    const ran = await terminal.run(['log', 'tested breakaway', '--demo', '--yes'], { clock });
    expect([ran.code, ran.err]).toEqual([70, expect.stringContaining('mistake of the program')]);
  });
});
