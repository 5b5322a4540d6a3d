import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Household } from '../../test/support/household.ts';
import { TestServer } from '../../test/support/serving.ts';
import { LOCAL_LIMIT, SHARED_LIMIT } from './request-limit.ts';

let house: Household;
beforeEach(async () => {
  vi.useFakeTimers({ toFake: ['Date'] });
  house = await Household.start({ requestLimit: { address: 30, caller: 12 } });
});
afterEach(async () => {
  vi.useRealTimers();
  expect(house.server.failures).toEqual([]);
  await house.stop();
});

const times = async (count: number, ask: () => Promise<{ status: number }>): Promise<number[]> => {
  const statuses: number[] = [];
  for (let n = 0; n < count; n++) statuses.push((await ask()).status);
  return statuses;
};

describe('how often one may ask', () => {
  it('is bounded for an address, whoever asks and whatever for; others go on, and after the minute so does it', async () => {
    const one = house.browser('198.51.100.1');
    const asked = await times(33, () => one.ask('GET', '/nothing/here'));
    expect(asked).toEqual([...Array(30).fill(404), 429, 429, 429]);
    const refused = await one.ask('GET', '/api/session');
    expect(refused.headers['content-type']).toContain('application/problem+json');
    expect(refused.json).toMatchObject({ status: 429, code: 'request.too-many', title: 'Too many requests' });
    const wait = Number(refused.headers['retry-after']);
    expect(wait).toBeGreaterThan(50);
    expect(wait).toBeLessThanOrEqual(60);
    // In words, too, for whoever reads the answer and not its headers.
    const next = `Wait ${wait} seconds, then go on.`;
    expect(refused.json.problems).toMatchObject([{ expected: 'at most 30 in a minute', next }]);
    expect(refused.json.detail).toContain(next);
    expect((await house.browser('198.51.100.2').ask('GET', '/api/session')).status).toBe(200);
    vi.setSystemTime(Date.now() + 61_000);
    expect((await one.ask('GET', '/api/session')).status).toBe(200);
    // Neighbours in one IPv6 network are one caller: each machine there has more addresses than one can count.
    let n = 0;
    const six = await times(32, () => house.browser(`2001:db8:1:1::${(++n).toString(16)}`).ask('GET', '/api/session'));
    expect(six.slice(-2)).toEqual([429, 429]);
  });

  it('is bounded for a person, from however many addresses, and for a link; for nobody else', async () => {
    const ben = await house.as('ben');
    let n = 0;
    const from = () => ({ 'x-forwarded-for': `203.0.113.${++n}` });
    const asked = await times(14, () => ben.ask('GET', '/api/rigs', undefined, from()));
    expect(asked).toEqual([...Array(12).fill(200), 429, 429]);
    const ada = await house.as('ada');
    expect((await ada.ask('GET', '/api/rigs')).status).toBe(200);
    const { token } = (await ada.ask('POST', '/api/rigs/marigold/links', { kind: 'share', label: 'a buyer' })).json;
    const buyer = house.browser();
    const seen = await times(13, () =>
      buyer.ask('GET', '/api/rigs/marigold', undefined, { ...from(), 'x-rig-link': token }),
    );
    expect(seen.at(-2)).toBe(200);
    expect(seen.at(-1)).toBe(429);
    vi.setSystemTime(Date.now() + 61_000);
    expect((await ben.ask('GET', '/api/rigs', undefined, from())).status).toBe(200);
  });

  it('is not felt at one’s own machine', async () => {
    const local = await TestServer.start();
    const asked = await times(SHARED_LIMIT.address + 50, () => local.get('/api/session'));
    expect(new Set(asked)).toEqual(new Set([200]));
    expect(LOCAL_LIMIT.caller).toBeGreaterThan(10 * SHARED_LIMIT.caller);
    await local.stop();
  });

  it('says after wrong passwords how long to wait', async () => {
    const guesser = house.browser('198.51.100.9');
    for (let n = 0; n < 5; n++) await guesser.signIn('ada', `a wrong guess ${n}`);
    const refused = await guesser.signIn('ada', 'a wrong guess');
    expect([refused.status, refused.json.code]).toEqual([429, 'request.too-many']);
    expect(Number(refused.headers['retry-after'])).toBeGreaterThan(5);
  });
});
