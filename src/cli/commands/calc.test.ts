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

  it('takes the whole input as JSON, and describes a calculation from its schema', async () => {
    const input = '{"gauge": "65 psi", "temperature": "70 degF", "elevation": "0 ft", "toElevation": "5000 ft"}';
    const ran = await terminal.run(['calc', 'tire-pressure-at', '--input', input, '--json']);
    // 65 psi at sea level reads 67.47 psi at 5,000 ft: U.S. Standard Atmosphere 1976 and the gas law.
    expect((ran.json() as { gauge: { value: number } }).gauge.value).toBeCloseTo(67.47, 2);
    expect((await terminal.run(['calc', 'tire-pressure-at', '--help'])).out).toContain('toElevation');
    for (const bad of ['{', '[1]', '7']) {
      expect((await terminal.run(['calc', 'tire-pressure-at', '--input', bad])).code).toBe(2);
    }
  });

  it('tells a code that cannot be by exit code 1', async () => {
    for (const [text, code] of [
      ['5412', 1],
      ['0012', 1],
      ['0109', 0],
    ] as const) {
      const ran = await terminal.run(['code', 'tire', text, '--now', '2026-11-25', '--json']);
      expect([text, ran.code, (ran.json() as { valid: boolean }).valid]).toEqual([text, code, code === 0]);
    }
  });
});
