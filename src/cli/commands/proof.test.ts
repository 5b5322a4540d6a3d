import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Terminal } from '../../../test/support/terminal.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

const DEMO = new URL('../../../demo/marigold.jsonl', import.meta.url).pathname;
const file = (name: string) => join(terminal.folder, name);

/** The demo's logbook as an owner's own, and one reading written by this machine. */
async function written() {
  expect((await terminal.run(['import', DEMO])).code).toBe(0);
  expect((await terminal.run(['log', '--yes', 'spare 65 psi, 18 C'])).code).toBe(0);
  expect((await terminal.run(['export', file('book.jsonl')])).code).toBe(0);
  return readFileSync(file('book.jsonl'), 'utf8').trimEnd().split('\n');
}

describe('verify', () => {
  it('finds nothing wrong with what was written, and says what it rests on', async () => {
    await written();
    const own = await terminal.run(['verify']);
    expect(own.code).toBe(0);
    expect(own.out).toMatch(/\(([0-9a-f]{4} ?){4}\): 1 statement, /);
    expect(own.out).toContain('Nothing contradicts the signatures.');
    const sent = await terminal.run(['verify', file('book.jsonl')]);
    expect([sent.code, sent.out]).toEqual([0, own.out]);
  });

  it('finds a line that was changed, one that was taken out, and, by its code, a statement', async () => {
    const lines = await written();
    const { head } = (await terminal.run(['device', 'sign', '--json'])).json<{ head: string }>();
    const verify = async (changed: readonly string[], ...more: string[]) => {
      writeFileSync(file('changed.jsonl'), `${changed.join('\n')}\n`);
      const ran = await terminal.run(['verify', file('changed.jsonl'), '--json', ...more]);
      return [ran.code, ran.json<{ findings: { code: string }[] }>().findings.map((one) => one.code)];
    };
    const reading = lines.findIndex((line) => line.includes('"unit":"psi"'));
    expect(await verify(lines.with(reading, lines[reading]!.replace(/"value":\d+/, '"value":99')))).toEqual([
      1,
      ['rewritten'],
    ]);
    expect(await verify(lines.toSpliced(reading, 1))).toEqual([1, ['missing']]);
    const unsigned = lines.filter((line) => !line.includes('"witness"'));
    expect(await verify(unsigned)).toEqual([0, []]);
    expect(await verify(unsigned, '--head', head)).toEqual([1, ['cut-off']]);
    expect(await verify(lines, '--head', head)).toEqual([0, []]);
  });

  it('says of a logbook that nobody signed that nothing is proven', async () => {
    const ran = await terminal.run(['verify', DEMO]);
    expect(ran.code).toBe(0);
    expect(ran.out).toContain('nothing is proven');
    expect(ran.out).toContain('Not yet witnessed');
  });

  it('refuses a code that is none', async () => {
    const ran = await terminal.run(['verify', DEMO, '--head', 'abc']);
    expect([ran.code, ran.err]).toEqual([2, expect.stringContaining('such as 3f9a02c4d1e0aa12-7-a1b2c3d4e5f60718')]);
  });
});

describe('device', () => {
  it('keeps its key where only its owner can read it', async () => {
    await written();
    const kept = file('rigworthy/device.json');
    expect(statSync(kept).mode & 0o777).toBe(0o600);
    const secret = JSON.parse(readFileSync(kept, 'utf8')).secret as string;
    expect((await terminal.run(['backup', '--out', file('copies')])).code).toBe(0);
    expect((await terminal.run(['export', file('all.zip')])).code).toBe(0);
    for (const line of readFileSync(file('book.jsonl'), 'utf8').split('\n')) expect(line).not.toContain(secret);
    expect((await terminal.run(['verify', file('all.zip')])).code).toBe(0);
  });

  it('signs under its name, and nothing twice', async () => {
    await written();
    expect((await terminal.run(['device', 'name', 'Kitchen laptop'])).code).toBe(0);
    expect((await terminal.run(['device', 'sign'])).out).toContain('Nothing new to sign');
    await terminal.run(['log', '--yes', 'spare 64 psi, 18 C']);
    const { devices } = (await terminal.run(['device', 'list', '--json'])).json<{ devices: object[] }>();
    expect(devices).toMatchObject([{ name: 'Kitchen laptop', statements: 2, ended: false }]);
  });

  it('lets a lost key count no more, and makes a new one for itself', async () => {
    await written();
    const before = (await terminal.run(['device', 'list', '--json'])).json<{ devices: { device: string }[] }>();
    const key = before.devices[0]!.device;
    expect((await terminal.run(['device', 'lost', 'ffffffff'])).code).toBe(2);
    expect((await terminal.run(['device', 'lost', key.slice(0, 8)])).code).toBe(0);
    expect((await terminal.run(['log', '--yes', 'spare 64 psi, 18 C'])).code).toBe(0);
    const { devices } = (await terminal.run(['device', 'list', '--json'])).json<{ devices: object[] }>();
    expect(devices).toMatchObject([{ device: key, ended: true }, { ended: false }]);
    expect((await terminal.run(['verify'])).code).toBe(0);
  });

  it('says what to do about a key file that is torn', async () => {
    await written();
    writeFileSync(file('rigworthy/device.json'), '{"secret":');
    const ran = await terminal.run(['log', '--yes', 'spare 64 psi, 18 C']);
    expect([ran.code, ran.err]).toEqual([2, expect.stringContaining('not the key of a device')]);
  });
});
