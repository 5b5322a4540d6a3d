import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { Household, ORIGIN, PASSWORD } from '../../test/support/household.ts';
import { entryNumber } from '../../test/support/keeping.ts';
import { TestServer, TODAY } from '../../test/support/serving.ts';
import { serve } from './index.ts';

let house: Household;
beforeEach(async () => {
  house = await Household.start();
});
afterEach(async () => {
  expect(house.server.failures).toEqual([]);
  await house.stop();
});

describe('signing in and out', () => {
  it('gives a cookie that no script can read, no other site can send and no plain http carries', async () => {
    const browser = house.browser();
    const answer = await browser.signIn('ada');
    expect(answer).toMatchObject({ status: 200, json: { kind: 'account', person: { name: 'ada', shown: 'Ada' } } });
    const cookie = String(answer.headers['set-cookie']);
    for (const word of ['__Host-session=', 'HttpOnly', 'SameSite=Strict', 'Secure', 'Path=/'])
      expect(cookie).toContain(word);
    expect(cookie).not.toContain('Domain');
    expect(answer.text).not.toContain(browser.cookie.split('=')[1]);
    expect(answer.headers['strict-transport-security']).toContain('max-age');
  });

  it('ends on this device, on another, or everywhere', async () => {
    const [phone, laptop] = [await house.as('ada'), await house.as('ada')];
    const devices = (await laptop.ask('GET', '/api/sessions')).json.sessions;
    expect(devices).toHaveLength(2);
    const other = devices.find(({ here }: { here: boolean }) => !here);
    expect((await laptop.ask('DELETE', `/api/sessions/${other.id}`)).status).toBe(204);
    expect((await phone.ask('GET', '/api/rigs')).status).toBe(401);
    const tablet = await house.as('ada');
    const stolen = laptop.cookie;
    expect((await tablet.ask('DELETE', '/api/sessions')).status).toBe(204);
    expect((await laptop.ask('GET', '/api/rigs')).status).toBe(401);
    expect((await tablet.ask('GET', '/api/rigs', undefined, { cookie: stolen })).status).toBe(401);
    const last = await house.as('ada');
    expect((await last.ask('DELETE', '/api/session')).status).toBe(204);
    expect(last.cookie).toBe('');
  });

  it('by a device link works once, within ten minutes', async () => {
    const laptop = await house.as('ada');
    const { json } = await laptop.ask('POST', '/api/device-link');
    expect(json.url).toBe(`${ORIGIN}/#device=${json.token}`);
    const phone = house.browser();
    expect(
      (await phone.ask('POST', '/api/session', { deviceLink: json.token, device: 'phone' })).json.person.name,
    ).toBe('ada');
    expect((await phone.ask('GET', '/api/rigs')).status).toBe(200);
    expect((await house.browser().ask('POST', '/api/session', { deviceLink: json.token })).status).toBe(401);
    const late = (await laptop.ask('POST', '/api/device-link')).json.token;
    house.server.passMinutes(11);
    expect((await house.browser().ask('POST', '/api/session', { deviceLink: late })).status).toBe(401);
  });

  it('after a change of password every other device is out', async () => {
    const [phone, laptop] = [await house.as('ada'), await house.as('ada')];
    expect(
      (await laptop.ask('POST', '/api/password', { old: 'wrong words in a row', new: 'another four words here' }))
        .status,
    ).toBe(401);
    expect((await laptop.ask('POST', '/api/password', { old: PASSWORD, new: 'short' })).json.code).toBe(
      'accounts.password-weak',
    );
    expect((await laptop.ask('POST', '/api/password', { old: PASSWORD, new: 'another four words here' })).status).toBe(
      204,
    );
    expect((await phone.ask('GET', '/api/rigs')).status).toBe(401);
    expect((await laptop.ask('GET', '/api/rigs')).status).toBe(200);
    expect((await house.browser().signIn('ada', PASSWORD)).status).toBe(401);
  });
});

describe('a household on one rig', () => {
  it('reads, writes and decides by role, and every entry says who', async () => {
    const [ada, ben, cleo] = [await house.as('ada'), await house.as('ben'), await house.as('cleo')];
    for (const person of [ada, ben, cleo]) expect((await person.ask('GET', '/api/rigs/marigold')).status).toBe(200);
    const written = await ben.ask('POST', '/api/rigs/marigold/write', { drafts: [house.reading()] });
    expect(written).toMatchObject({ status: 201, json: { entries: [{ by: 'Ben' }] } });
    const { entries } = (await ada.ask('GET', '/api/rigs/marigold/entries')).json;
    const { people } = (await ada.ask('GET', '/api/rigs/marigold/people')).json;
    expect(entries.at(-1).via).toBe(people.find(({ name }: { name: string }) => name === 'ben').account);
    expect((await cleo.ask('POST', '/api/rigs/marigold/write', { drafts: [house.reading()] })).json).toMatchObject({
      status: 403,
      code: 'access.role',
    });
    expect((await ada.ask('GET', '/api/rigs')).json).toMatchObject({
      you: { name: 'Ada', signedIn: true },
      rigs: [{ rig: 'marigold', role: 'owner' }],
    });
  });

  it('grows by an invitation that works once', async () => {
    const ada = await house.as('ada');
    const { token } = (
      await ada.ask('POST', '/api/rigs/marigold/links', { kind: 'invite', role: 'helper', label: 'for Eve' })
    ).json;
    const eve = house.browser();
    expect((await eve.ask('POST', '/api/join', { token })).status).toBe(401);
    const joined = await eve.ask('POST', '/api/join', {
      token,
      account: { name: 'eve', shown: 'Eve', password: 'four more words here' },
    });
    expect(joined).toMatchObject({ status: 201, json: { rig: 'marigold', role: 'helper' } });
    expect((await eve.ask('POST', '/api/rigs/marigold/write', { drafts: [house.reading()] })).status).toBe(201);
    const dora = await house.as('dora');
    expect((await dora.ask('POST', '/api/join', { token })).json.code).toBe('access.invitation');
    // Roles change at once, and end at once.
    const account = joined.json.account;
    expect((await ada.ask('PUT', `/api/rigs/marigold/people/${account}`, { role: 'reader' })).status).toBe(204);
    expect((await eve.ask('POST', '/api/rigs/marigold/write', { drafts: [house.reading()] })).status).toBe(403);
    expect((await ada.ask('DELETE', `/api/rigs/marigold/people/${account}`)).status).toBe(204);
    expect((await eve.ask('GET', '/api/rigs/marigold')).status).toBe(404);
  });

  it('always has an owner', async () => {
    const ada = await house.as('ada');
    const { people } = (await ada.ask('GET', '/api/rigs/marigold/people')).json;
    const [own, ben] = people.map(({ account }: { account: string }) => account);
    expect((await ada.ask('DELETE', `/api/rigs/marigold/people/${own}`)).json).toMatchObject({
      status: 409,
      code: 'access.last-owner',
    });
    expect((await ada.ask('PUT', `/api/rigs/marigold/people/${own}`, { role: 'reader' })).status).toBe(409);
    await ada.ask('PUT', `/api/rigs/marigold/people/${ben}`, { role: 'owner' });
    expect((await ada.ask('DELETE', `/api/rigs/marigold/people/${own}`)).status).toBe(204);
    expect((await ada.ask('GET', '/api/rigs/marigold')).status).toBe(404);
  });

  it('begins with whoever begins the rig, and no name is taken twice', async () => {
    const ada = await house.as('ada');
    expect((await ada.ask('POST', '/api/rigs', { rig: 'juniper' })).status).toBe(201);
    expect((await ada.ask('POST', '/api/rigs/juniper/entries', { entries: [] })).status).toBe(200);
    const dora = await house.as('dora');
    for (const rig of ['juniper', 'marigold'])
      expect((await dora.ask('POST', '/api/rigs', { rig })).json.code).toBe('access.rig-taken');
  });
});

describe('who was let in and shut out', () => {
  it('is told to owners, and to nobody else', async () => {
    const [ada, ben] = [await house.as('ada'), await house.as('ben')];
    const { token } = (
      await ada.ask('POST', '/api/rigs/marigold/links', { kind: 'invite', role: 'helper', label: 'for Eve' })
    ).json;
    const account = { name: 'eve', shown: 'Eve', password: 'four more words here' };
    const eve = (await house.browser().ask('POST', '/api/join', { token, account })).json.account;
    await ada.ask('DELETE', `/api/rigs/marigold/people/${eve}`);
    const { log } = (await ada.ask('GET', '/api/rigs/marigold/account-log')).json;
    expect(log.slice(0, 3).map(({ text }: { text: string }) => text)).toEqual([
      'Ada took Eve off the rig',
      'Eve joined as helper, invited by Ada (“for Eve”)',
      'Ada invited “for Eve” as helper',
    ]);
    expect((await ben.ask('GET', '/api/rigs/marigold/account-log')).status).toBe(403);
    expect((await (await house.as('dora')).ask('GET', '/api/rigs/marigold/account-log')).status).toBe(404);
  });

  it('an account is exported and deleted by its holder, with the password', async () => {
    const [ben, phone] = [await house.as('ben'), await house.as('ben')];
    const mine = (await ben.ask('GET', '/api/account')).json;
    expect(mine).toMatchObject({ person: { name: 'ben' }, roles: [{ rig: 'marigold', role: 'helper' }] });
    expect(mine.devices).toHaveLength(2);
    expect((await ben.ask('DELETE', '/api/account', { password: 'some wrong words here' })).status).toBe(401);
    expect((await ben.ask('DELETE', '/api/account', { password: PASSWORD })).status).toBe(204);
    for (const browser of [ben, phone]) expect((await browser.ask('GET', '/api/rigs')).status).toBe(401);
    expect((await house.browser().signIn('ben')).status).toBe(401);
    const ada = await house.as('ada');
    expect((await ada.ask('DELETE', '/api/account', { password: PASSWORD })).json.code).toBe('access.last-owner');
    expect((await ada.ask('GET', '/api/rigs/marigold')).status).toBe(200);
  });
});

describe('what was set aside', () => {
  it('is listed with its reasons, and released or rejected by an owner', async () => {
    const [ada, ben] = [await house.as('ada'), await house.as('ben')];
    const odd = { ...entryNumber(40), body: { ...entryNumber(40).body, value: { value: 2000, unit: 'psi' } } };
    const strike = { ...entryNumber(41), kind: 'strike', body: { entry: entryNumber(41).id, reason: 'itself' } };
    const newer = { ...entryNumber(42), v: 2 };
    await ben.ask('POST', '/api/rigs/marigold/entries', { entries: [odd, strike, newer] });
    const list = async () => (await ben.ask('GET', '/api/rigs/marigold/set-aside')).json;
    const before = await list();
    expect(before).toMatchObject({ newer: 1, unreadable: 0 });
    const stands = (id: string) => before.aside.find((one: { id: string }) => one.id === id);
    expect(stands(strike.id)).toMatchObject({ releasable: false, decision: null });
    const decide = (who: typeof ada, id: string, decision: string) =>
      who.ask('PUT', `/api/rigs/marigold/set-aside/${id}`, { decision });
    expect((await decide(ben, strike.id, 'reject')).status).toBe(403);
    expect((await decide(ada, strike.id, 'release')).json.code).toBe('logbook.not-releasable');
    expect((await decide(ada, strike.id, 'reject')).status).toBe(204);
    expect((await decide(ada, newer.id, 'reject')).status).toBe(404);
    expect((await list()).aside.find((one: { id: string }) => one.id === strike.id).decision).toBe('reject');
  });
});

describe('a link to see a rig without an account', () => {
  it('reads that rig and does nothing else, until it ends or is taken back', async () => {
    const ada = await house.as('ada');
    const { token, id, url } = (await ada.ask('POST', '/api/rigs/marigold/links', { kind: 'share', label: 'a buyer' }))
      .json;
    expect(url).toBe(`${ORIGIN}/#share=${token}`);
    const buyer = house.browser();
    const asBuyer = (method: 'GET' | 'POST' | 'DELETE', path: string, body?: unknown) =>
      buyer.ask(method, path, body, { 'x-rig-link': token });
    for (const path of ['', '/entries', '/outlook', '/blobs'])
      expect((await asBuyer('GET', `/api/rigs/marigold${path}`)).status).toBe(200);
    expect((await asBuyer('GET', '/api/rigs')).json.rigs.map(({ rig }: { rig: string }) => rig)).toEqual(['marigold']);
    expect((await asBuyer('GET', '/api/rigs/wren')).status).toBe(404);
    expect((await asBuyer('POST', '/api/rigs/marigold/write', { drafts: [house.reading()] })).status).toBe(403);
    expect((await asBuyer('GET', '/api/rigs/marigold/people')).status).toBe(403);
    // Whoever looks is told whose rig it is; who has no link is told nothing.
    expect((await asBuyer('GET', '/api/session')).json).toMatchObject({
      kind: 'link',
      person: null,
      link: { rig: 'marigold', label: 'a buyer', by: 'Ada' },
    });
    expect((await buyer.ask('GET', '/api/session')).json.link).toBe(null);
    expect((await asBuyer('POST', '/api/rigs/marigold/links', { kind: 'share', label: 'x' })).status).toBe(403);
    expect((await asBuyer('POST', '/api/rigs', { rig: 'juniper' })).status).toBe(403);
    expect((await ada.ask('GET', '/api/rigs/marigold/links')).text).not.toContain(token.split('.')[1]);
    expect((await ada.ask('DELETE', `/api/rigs/marigold/links/${id}`)).status).toBe(204);
    expect((await asBuyer('GET', '/api/rigs/marigold')).status).toBe(401);
    const short = (await ada.ask('POST', '/api/rigs/marigold/links', { kind: 'share', label: 'x', days: 1 })).json
      .token;
    house.server.passMinutes(24 * 60 + 1);
    expect((await buyer.ask('GET', '/api/rigs/marigold', undefined, { 'x-rig-link': short })).status).toBe(401);
  });
});

describe('opening to others', () => {
  it('needs an account first', async () => {
    const test = await TestServer.start();
    const options = {
      store: test.store,
      catalog: shippedCatalog(),
      clock: () => 0,
      today: () => TODAY,
      version: '0',
      access: { kind: 'accounts', origin: ORIGIN } as const,
    };
    expect(await serve(options, { host: '0.0.0.0', port: 0 })).toMatchObject({
      ok: false,
      problems: [{ code: 'server.no-account' }],
    });
    await test.stop();
  });

  it('has no accounts to change at the owner’s own machine', async () => {
    const test = await TestServer.start();
    expect((await test.get('/api/session')).json).toEqual({ mode: 'local', kind: 'local', person: null, link: null });
    expect((await test.post('/api/session', { name: 'ada', password: 'x' })).json.code).toBe('access.no-account');
    expect((await test.get('/api/sessions')).json.code).toBe('access.no-account');
    await test.stop();
  });
});
