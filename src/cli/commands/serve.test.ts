import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, Terminal } from '../../../test/support/terminal.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

describe('serve', () => {
  it('answers on a free port until it is asked to end', async () => {
    let health: number | undefined;
    let you: unknown;
    const ran = await terminal.run(['serve', '--demo', '--port', '0'], {
      ended: async (out) => {
        const url = /http:\/\/127\.0\.0\.1:\d+/.exec(out())![0];
        const answer = await fetch(`${url}/api/rigs`);
        health = answer.status;
        ({ you } = (await answer.json()) as { you: unknown });
      },
    });
    expect([ran.code, health]).toEqual([0, 200]);
    // Entries written on the page bear the name of the login, as those of the command line do.
    expect(you).toEqual({ name: 'Nell', signedIn: false });
    expect(ran.out).toContain('demo rig');
  });

  it.each([
    [['--port', 'x'], 'cli.port'],
    [['--origin', 'https://rig.example'], 'cli.origin'],
    [['--proxy', '127.0.0.1'], 'cli.proxy'],
    [['--host', '0.0.0.0', '--port', '0'], 'server.address-open'],
  ])('refuses %s', async (more, code) =>
    expect(codesOf(await terminal.run(['serve', '--demo', '--json', ...more]))).toEqual([code]),
  );

  it.each([['rig.example'], ['ftp://rig.example'], ['https://rig.example/path'], ['https://nell@rig.example']])(
    'refuses %s as its address',
    async (origin) =>
      expect(codesOf(await terminal.run(['serve', '--json', '--port', '0', '--origin', origin]))).toEqual([
        'cli.origin',
      ]),
  );
});
