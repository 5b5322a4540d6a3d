import { request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Browser, Household } from '../../test/support/household.ts';
import { entryNumber } from '../../test/support/keeping.ts';
import { unwrap } from '../problem/index.ts';
import { openStore } from '../store/index.ts';
import { CHANNELS, Changes } from './changes.ts';

let house: Household;
let port: number;
beforeEach(async () => {
  house = await Household.start();
  await house.server.app.listen({ host: '127.0.0.1', port: 0 });
  port = (house.server.app.server.address() as AddressInfo).port;
});
afterEach(async () => {
  expect(house.server.failures).toEqual([]);
  await house.stop();
});

/** What a browser hears on the channel, over a real connection. */
class Listener {
  status = 0;
  headers: Record<string, unknown> = {};
  text = '';
  ended = false;
  #stop = (): void => undefined;

  static async open(headers: Record<string, string>): Promise<Listener> {
    const one = new Listener();
    await new Promise<void>((resolve, reject) => {
      const asked = request(
        { host: '127.0.0.1', port, path: '/api/rigs/marigold/changes', headers: { host: 'rig.example', ...headers } },
        (answer) => {
          one.status = answer.statusCode!;
          one.headers = answer.headers;
          answer.setEncoding('utf8').on('data', (text: string) => {
            one.text += text;
          });
          answer.on('end', () => {
            one.ended = true;
          });
          answer.on('error', () => undefined);
          resolve();
        },
      );
      asked.on('error', reject).end();
      one.#stop = () => asked.destroy();
    });
    return one;
  }

  stop(): void {
    this.#stop();
  }

  get cursors(): string[] {
    return [...this.text.matchAll(/^event: moved\nid: (.*)\ndata: (.*)\n\n/gm)].map(([, id, data]) => {
      expect(JSON.parse(data!)).toEqual({ cursor: id });
      return id!;
    });
  }
}

const until = async (holds: () => boolean, ms: number): Promise<void> => {
  for (const end = Date.now() + ms; !holds() && Date.now() < end; ) await wait(20);
  expect(holds()).toBe(true);
};
const hear = async (browser: Browser): Promise<Listener> => Listener.open({ cookie: browser.cookie });
const head = async (): Promise<string> => (await house.server.store.heads(['marigold'])).get('marigold')!;

describe('the channel of changes', () => {
  it('says at once where the logbook is, then within a second that it moved, whoever wrote', async () => {
    const [cleo, ben] = [await hear(await house.as('cleo')), await house.as('ben')];
    expect([cleo.status, cleo.headers['content-type'], cleo.headers['cache-control']]).toEqual([
      200,
      'text/event-stream',
      'no-store',
    ]);
    await until(() => cleo.cursors.length === 1, 1000);
    expect(cleo.cursors).toEqual([await head()]);
    await ben.ask('POST', '/api/rigs/marigold/write', { drafts: [house.reading()] });
    await until(() => cleo.cursors.length === 2, 1000);
    // Another process on the same store.
    const other = unwrap(await openStore({ folder: house.server.folder.path }));
    await other.append([entryNumber(70)], { via: 'another process' });
    await other.close();
    await until(() => cleo.cursors.length === 3, 1000);
    expect(cleo.cursors.at(-1)).toBe(await head());
    // Of another rig nothing is told.
    await house.server.store.append([entryNumber(71, 'wren')], { via: 'a test' });
    await wait(700);
    expect(cleo.cursors.length).toBe(3);
    cleo.stop();
  });

  it('ends when one signs out, is taken off the rig, or the link is taken back; nothing later is told', async () => {
    const ada = await house.as('ada');
    const ben = await house.as('ben');
    const cleo = await house.as('cleo');
    const link = (await ada.ask('POST', '/api/rigs/marigold/links', { kind: 'share', label: 'a buyer' })).json;
    const heard = [await hear(ben), await hear(cleo), await Listener.open({ 'x-rig-link': link.token })];
    expect(heard.map(({ status }) => status)).toEqual([200, 200, 200]);
    await ben.ask('DELETE', '/api/session');
    const { people } = (await ada.ask('GET', '/api/rigs/marigold/people')).json;
    const account = people.find(({ name }: { name: string }) => name === 'cleo').account;
    await ada.ask('DELETE', `/api/rigs/marigold/people/${account}`);
    await ada.ask('DELETE', `/api/rigs/marigold/links/${link.id}`);
    await house.server.store.append([entryNumber(72)], { via: 'a test' });
    await until(() => heard.every(({ ended }) => ended), 4000);
    expect(heard.map(({ cursors }) => cursors.length)).toEqual([1, 1, 1]);
  });

  it('tells within seconds of another role, and that one alone', async () => {
    const [ada, cleo] = [await house.as('ada'), await house.as('cleo')];
    const heard = await hear(cleo);
    const bens = await hear(await house.as('ben'));
    const { people } = (await ada.ask('GET', '/api/rigs/marigold/people')).json;
    const { account } = people.find(({ name }: { name: string }) => name === 'cleo');
    const role = (to: string) => ada.ask('PUT', `/api/rigs/marigold/people/${account}`, { role: to });
    await role('owner');
    await until(() => heard.text.includes('event: role\ndata: {"role":"owner"}\n\n'), 4000);
    await role('helper');
    await until(() => heard.text.includes('event: role\ndata: {"role":"helper"}\n\n'), 4000);
    expect(heard.text.split('event: role').length).toBe(3);
    expect(bens.text).not.toContain('event: role');
    expect(heard.ended).toBe(false);
  });

  it('is closed to who may not read, ends who only waits, and leaves none behind', async () => {
    expect((await Listener.open({})).status).toBe(401);
    expect((await hear(await house.as('dora'))).status).toBe(404);
    const ben = await house.as('ben');
    const heard = await hear(ben);
    await ben.ask('DELETE', '/api/sessions');
    await until(() => heard.ended, 4000);
    // HEAD would open a stream that nobody reads.
    expect((await ben.ask('GET', '/api/rigs/marigold/changes')).status).toBe(401);
    expect((await ben.ask('HEAD', '/api/rigs/marigold/changes')).status).toBe(404);
  });

  it('is bounded for each caller, and a place is free again when one goes', async () => {
    const cleo = await house.as('cleo');
    const open = await Promise.all(Array.from({ length: CHANNELS.each + 3 }, () => hear(cleo)));
    expect(open.filter(({ status }) => status === 200).length).toBe(CHANNELS.each);
    expect(open.filter(({ status }) => status === 429).length).toBe(3);
    expect((await hear(await house.as('ben'))).status).toBe(200);
    open.find(({ status }) => status === 200)!.stop();
    for (let tries = 0; ; tries++) {
      const again = await hear(cleo);
      if (again.status === 200) break;
      expect(tries).toBeLessThan(50);
      await wait(20);
    }
  });

  it('does not keep the server from ending', async () => {
    const heard = await hear(await house.as('cleo'));
    const began = Date.now();
    await house.server.app.close();
    expect(Date.now() - began).toBeLessThan(5000);
    await until(() => heard.ended, 1000);
  });

  it('gives signs of life, outlives a store out of reach, and says so once', async () => {
    let broken = false;
    const failures: unknown[] = [];
    const { store } = house.server;
    const heads: typeof store.heads = (rigs) => (broken ? Promise.reject(new Error('gone')) : store.heads(rigs));
    const changes = new Changes({ ...store, heads } as typeof store, (error) => failures.push(error), {
      lookMs: 10,
      checkMs: 10,
      beatMs: 30,
    });
    const stream = await changes.open('marigold', 'cleo', async () => 'reader');
    let text = '';
    stream.setEncoding('utf8').on('data', (more: string) => {
      text += more;
    });
    await until(() => text.split(':\n\n').length > 2, 2000);
    broken = true;
    await wait(100);
    broken = false;
    await store.append([entryNumber(73)], { via: 'a test' });
    await until(() => text.split('event: moved').length === 3, 2000);
    expect(failures.length).toBe(1);
    changes.close();
    expect(changes.size).toBe(0);
  });
});
