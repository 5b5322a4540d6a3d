/** The built program and the two commands of the clone, as a person runs them. */
import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const program = join(root, 'bin/rigworthy.mjs');
let home: string;

beforeAll(() => {
  execFileSync(process.execPath, ['scripts/build.mjs'], { cwd: root });
  home = mkdtempSync(join(tmpdir(), 'rigworthy-home-'));
}, 240_000);
afterAll(() => rmSync(home, { recursive: true, force: true }));

const run = (argv: readonly string[], input = '', env: Record<string, string> = {}) =>
  spawnSync(process.execPath, [program, ...argv], {
    cwd: home,
    input,
    encoding: 'utf8',
    env: { ...process.env, HOME: home, XDG_DATA_HOME: home, ...env },
  });

describe('the built command', () => {
  it('judges the demo rig, the same in every time zone', () => {
    const answers = ['Pacific/Apia', 'America/St_Johns', 'Africa/Cairo'].map((TZ) =>
      run(['sendoff', '--demo', '--json'], '', { TZ }),
    );
    for (const answer of answers) expect([answer.status, answer.stderr]).toEqual([0, '']);
    expect(JSON.parse(answers[0]!.stdout)).toMatchObject({ judgement: 'hold', trip: { id: 'palouse-2026' } });
    expect(new Set(answers.map((answer) => answer.stdout)).size).toBe(1);
  });

  it('takes a logbook from its standard input and gives it back', () => {
    const exported = run(['export', '--demo']);
    const data = join(home, 'kept');
    expect(run(['import', '-', '--data', data], exported.stdout)).toMatchObject({ status: 0, stderr: '' });
    expect(run(['export', '--data', data]).stdout).toBe(exported.stdout);
    expect(run(['log', 'spare 65 psi', '--data', data, '--now', '2026-05-27'])).toMatchObject({ status: 2 });
    expect(run(['export', '--data', data]).stdout).toBe(exported.stdout);
  });

  it('writes, signs and verifies: every part that is read later finds its way', () => {
    const data = ['--data', join(home, 'written'), '--now', '2026-05-27'];
    expect(run(['import', '-', ...data], run(['export', '--demo']).stdout)).toMatchObject({ status: 0, stderr: '' });
    const written = run(['log', '--yes', 'spare 65 psi, 18 C', ...data]);
    expect([written.status, written.stdout]).toEqual([0, expect.stringContaining('Written, by ')]);
    const [id] = /[0-7][0-9A-HJKMNP-TV-Z]{25}/.exec(written.stdout)!;
    expect(run(['strike', id!, '--reason', 'misread', '--yes', ...data]).status).toBe(0);
    const verified = run(['verify', ...data]);
    expect([verified.status, verified.stdout]).toEqual([0, expect.stringContaining('Nothing contradicts')]);
    expect(run(['check', ...data]).status).toBe(0);
  });

  it('ends quietly when its reader has seen enough', () => {
    const piped = spawnSync('sh', ['-c', `"${process.execPath}" "${program}" export --demo | head -1`], {
      cwd: home,
      encoding: 'utf8',
    });
    expect([piped.status, piped.stderr, piped.stdout.split('\n').length]).toEqual([0, '', 2]);
  });
});

describe('npm start', () => {
  /** Starts it on a free port; the address is in what it prints. */
  function start(): { child: ChildProcess; url: Promise<string> } {
    const child = spawn(process.execPath, [join(root, 'scripts/start.mjs'), '--port', '0'], { cwd: root });
    const url = new Promise<string>((settle, reject) => {
      let out = '';
      child.stdout.on('data', (text) => {
        out += text;
        const found = /http:\/\/127\.0\.0\.1:\d+/.exec(out);
        if (found) settle(found[0]);
      });
      child.on('exit', () => reject(new Error(`it ended: ${out}`)));
    });
    return { child, url };
  }

  it('serves the demo rig and its page, and ends when asked to', async () => {
    const { child, url } = start();
    const ended = new Promise<number | null>((settle) => child.on('exit', settle));
    const at = await url;
    const rigs = await fetch(`${at}/api/rigs`);
    expect(rigs.status).toBe(200);
    expect(JSON.stringify(await rigs.json())).toContain('marigold');
    const page = await fetch(at);
    expect([page.status, page.headers.get('content-type')]).toEqual([200, expect.stringContaining('text/html')]);
    child.kill('SIGTERM');
    expect(await ended).toBe(0);
  });
});
