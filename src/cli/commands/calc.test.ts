import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Terminal, widest } from '../../../test/support/terminal.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

describe('calc and code', () => {
  it('answers with the worked example of a table (ST225/75R15 at 65 psi: 2,540 lb, tire makers’ charts)', async () => {
    const ran = await terminal.run([
      'calc',
      'tire-load',
      'size=ST225/75R15',
      'family=ST',
      'loadRange=D',
      'pressure=65 psi',
      '--json',
    ]);
    expect(ran.json()).toMatchObject({ load: { value: 2540, unit: 'lb' } });
    expect(
      (await terminal.run(['calc', 'tire-load', 'size=ST225/75R15', 'family=ST', 'loadRange=D', 'pressure=65 psi']))
        .out,
    ).toContain('2,540 lb');
  });

  it('lists, explains and refuses', async () => {
    expect((await terminal.run(['calc'])).out).toContain('tire-load');
    expect((await terminal.run(['calc', 'tire-load'])).out).toContain('loadRange');
    for (const argv of [
      ['calc', 'teapot', 'a=1'],
      ['calc', 'tire-load', 'pressure'],
      ['calc', 'tire-load', 'pressure=65 lb'],
      ['code', 'teapot', '1'],
      ['code', 'tire', '0721', '--now', 'soon'],
    ]) {
      const ran = await terminal.run(argv);
      expect([argv, ran.code]).toEqual([argv, 2]);
      expect(ran.err).toMatch(/^! /);
    }
  });

  it('reads the example of the rule: 0109 is 4 to 10 January 2009 (49 CFR 574.5)', async () => {
    expect((await terminal.run(['code', 'tire', '0109', '--json'])).json()).toMatchObject({
      valid: true,
      from: '2009-01-04',
      to: '2009-01-10',
    });
  });

  it('fits 80 columns', async () => {
    for (const argv of [['calc'], ['calc', 'tire-load'], ['code', 'tire', '0721']])
      expect(widest((await terminal.run(argv)).out), argv.join(' ')).toBeLessThanOrEqual(80);
  });
});
