import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, DEMO_FILE, Terminal } from '../../../test/support/terminal.ts';

let terminal: Terminal;
beforeEach(async () => {
  terminal = new Terminal();
  await terminal.run(['import', DEMO_FILE]);
});
afterEach(() => terminal.clear());

const PASSWORD = 'five axles in the barn';
const nell = ['account', 'add', 'nell', '--shown', 'Nell', '--rig', 'marigold'];

describe('accounts', () => {
  it('let their holder in from another machine, and nobody else', async () => {
    const serving = ['serve', '--port', '0', '--origin', 'http://rig.test', '--json'];
    const none = await terminal.run(serving);
    expect([codesOf(none), none.err]).toEqual([['server.no-account'], expect.stringContaining('account add NAME')]);
    const added = await terminal.run(nell, { answers: [PASSWORD, PASSWORD] });
    expect([added.code, added.out]).toEqual([0, 'Nell signs in as nell, owner of marigold.\n']);
    expect(added.err).not.toContain(PASSWORD);
    const seen: unknown[] = [];
    const ran = await terminal.run(serving, {
      ended: async (out) => {
        const { listens, url } = JSON.parse(out());
        const { status, cookie } = await asked(listens, url, 'POST', '/api/session', {
          name: 'nell',
          password: PASSWORD,
        });
        const wrong = await asked(listens, url, 'POST', '/api/session', { name: 'nell', password: 'five axles' });
        const rigs = await asked(listens, url, 'GET', '/api/rigs', undefined, cookie);
        const stranger = await asked(listens, url, 'GET', '/api/rigs/marigold/entries');
        seen.push(url, status, wrong.status, rigs.status, rigs.text.includes('marigold'), stranger.status);
      },
    });
    expect(ran.code).toBe(0);
    expect(seen).toEqual(['http://rig.test', 200, 401, 200, true, expect.any(Number)]);
    expect(seen.at(-1)).toBeGreaterThanOrEqual(401);
  });

  it('are told a new password, and another role', async () => {
    const input = `${PASSWORD}\n`;
    expect((await terminal.run([...nell, '--password-stdin', '--json'], { input })).json()).toMatchObject({
      name: 'nell',
      shown: 'Nell',
      rig: 'marigold',
      role: 'owner',
    });
    const again = ['account', 'password', 'nell', '--password-stdin'];
    expect((await terminal.run(again, { input: 'six axles in the barn\n' })).out).toContain('signed out');
    const last = await terminal.run(['account', 'role', 'nell', '--rig', 'marigold', '--role', 'reader', '--json']);
    expect(codesOf(last)).toEqual(['access.last-owner']);
    await terminal.run(['account', 'add', 'otis', '--password-stdin'], { input: 'oats and barley and rye\n' });
    const role = await terminal.run(['account', 'role', 'otis', '--rig', 'marigold', '--role', 'helper']);
    expect(role.out).toBe('otis is helper of marigold.\n');
  });

  it('are listed, logged, exported and removed', async () => {
    const add = (name: string, ...more: string[]) =>
      terminal.run(['account', 'add', name, '--password-stdin', ...more], { input: `${PASSWORD}\n` });
    expect((await terminal.run(['account', 'list'])).out).toBe('Nobody has an account here.\n');
    await add('otis');
    expect((await terminal.run(['account', 'list'])).out).toBe(
      'otis (otis): on no rig\nmarigold has no owner: `rigworthy account role NAME --rig marigold`\n',
    );
    await add('nell', '--shown', 'Nell', '--rig', 'marigold');
    const { accounts, ownerless } = (await terminal.run(['account', 'list', '--json'])).json<{
      accounts: { name: string; rigs: object; locked: boolean }[];
      ownerless: string[];
    }>();
    expect(accounts.map(({ name, rigs, locked }) => [name, rigs, locked])).toEqual([
      ['nell', { marigold: 'owner' }, false],
      ['otis', {}, false],
    ]);
    expect(ownerless).toEqual([]);
    expect(codesOf(await terminal.run(['account', 'remove', 'nell', '--json']))).toEqual(['access.last-owner']);
    await terminal.run(['account', 'role', 'otis', '--rig', 'marigold']);
    const about = (await terminal.run(['account', 'export', 'nell'])).json();
    expect(about).toMatchObject({ person: { name: 'nell' }, roles: [{ rig: 'marigold', role: 'owner' }] });
    expect(JSON.stringify(about)).not.toContain('scrypt');
    const removed = await terminal.run(['account', 'remove', 'nell']);
    expect([removed.code, removed.out]).toEqual([0, expect.stringContaining('no account any more')]);
    expect(codesOf(await terminal.run(['account', 'remove', 'nell', '--json']))).toEqual(['cli.account-unknown']);
    expect((await terminal.run(['account', 'list'])).out).toBe('otis (otis): owner of marigold\n');
    const log = (await terminal.run(['account', 'log', '--rig', 'marigold'])).out;
    expect(log).toContain('A command at the machine deleted the account of Nell');
    expect(log).toContain('A command at the machine made otis owner');
    expect((await terminal.run(['account', 'log'])).out).toContain('made an account for otis');
  });

  it.each([
    [nell, {}, 'cli.password'],
    [nell, { answers: [PASSWORD, 'another'] }, 'cli.password'],
    [nell, { answers: ['short', 'short'] }, 'accounts.password-weak'],
    [['account', 'add', 'No Name'], { answers: [PASSWORD, PASSWORD] }, 'accounts.name'],
    [['account', 'add', 'nell', '--rig', 'moon'], {}, 'cli.rig-unknown'],
    [[...nell, '--role', 'reader'], { answers: [PASSWORD, PASSWORD] }, 'access.last-owner'],
    [['account', 'password', 'nobody'], {}, 'cli.account-unknown'],
    [['account', 'role', 'nobody', '--rig', 'marigold'], {}, 'cli.account-unknown'],
  ])('refuse %j with %j', async (argv, setting, code) => {
    const ran = await terminal.run([...argv, '--json'], setting);
    expect([ran.code, codesOf(ran)]).toEqual([2, [code]]);
  });
});

/** Asks the server as a browser at another name would: `fetch` does not let a Host be set. */
async function asked(listens: string, origin: string, method: string, path: string, body?: object, cookie?: string) {
  const { request } = await import('node:http');
  return new Promise<{ status: number; text: string; cookie: string }>((settle, refuse) => {
    const sent = request(
      `${listens}${path}`,
      {
        method,
        headers: {
          host: new URL(origin).host,
          origin,
          ...(body ? { 'content-type': 'application/json' } : {}),
          ...(cookie ? { cookie } : {}),
        },
      },
      (answer) => {
        let text = '';
        answer.setEncoding('utf8');
        answer.on('data', (chunk: string) => {
          text += chunk;
        });
        answer.on('end', () => {
          const given = answer.headers['set-cookie']?.[0]?.split(';', 1)[0] ?? '';
          settle({ status: answer.statusCode ?? 0, text, cookie: given });
        });
      },
    );
    sent.on('error', refuse);
    sent.end(body && JSON.stringify(body));
  });
}
