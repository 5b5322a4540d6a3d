import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { Household, ORIGIN, PASSWORD } from '../../test/support/household.ts';
import { entryNumber, idNumber } from '../../test/support/keeping.ts';
import { TestServer } from '../../test/support/serving.ts';

/** What a phone's camera reads off the codes of a page. */
async function scanned(html: string): Promise<string[]> {
  const wasm = new URL('../../node_modules/zxing-wasm/dist/reader/zxing_reader.wasm', import.meta.url);
  prepareZXingModule({ overrides: { wasmBinary: readFileSync(wasm).buffer as ArrayBuffer } });
  const codes = html.match(/<svg[\s\S]*?<\/svg>/g) ?? [];
  const pictures = codes.map((code) =>
    sharp(Buffer.from(code)).resize(400, 400, { kernel: 'nearest' }).flatten({ background: 'white' }).png().toBuffer(),
  );
  const read = await Promise.all(
    pictures.map(async (picture) => readBarcodes(new Uint8Array(await picture), { formats: ['QRCode'] })),
  );
  return read.flat().map(({ text }) => text);
}

let house: Household;
beforeEach(async () => {
  house = await Household.start();
});
afterEach(async () => {
  expect(house.server.failures).toEqual([]);
  await house.stop();
});

describe('addresses on paper', () => {
  it('are the configured one, whatever a proxy or a caller says', async () => {
    const ada = await house.as('ada');
    const proxy = { 'x-forwarded-proto': 'http', 'x-forwarded-host': 'elsewhere.example' };
    for (const headers of [{}, proxy] as Record<string, string>[]) {
      const { text, status } = await ada.ask('GET', '/api/rigs/marigold/sheets/labels', undefined, headers);
      expect(status).toBe(200);
      expect(await scanned(text)).toEqual([`${ORIGIN}/#/rig/spare`]);
    }
  });

  it('are this machine’s at the owner’s own machine', async () => {
    const test = await TestServer.start();
    await test.post('/api/rigs/marigold/write', { drafts: [{ kind: 'fit', on: '2026-04-01', body: FIT }] });
    const asked = { host: '127.0.0.1:4780', 'x-forwarded-host': 'elsewhere.example' };
    const { text } = await test.get('/api/rigs/marigold/sheets/labels', asked);
    expect(await scanned(text)).toEqual(['http://127.0.0.1:4780/#/rig/spare']);
    await test.stop();
  });
});

const FIT = { part: 'spare', kind: 'spare-tire', place: 'rear bumper', isNew: false };

describe('a rig with the longest name there may be', () => {
  it('has a calendar feed like any other', async () => {
    const ada = await house.as('ada');
    const rig = 'r'.repeat(60);
    expect((await ada.ask('POST', '/api/rigs', { rig })).status).toBe(201);
    const made = await ada.ask('POST', `/api/rigs/${rig}/links`, { kind: 'calendar', label: 'x' });
    const feed = await house.browser().ask('GET', `/feeds/${made.json.token}.ics`);
    expect([feed.status, feed.text.slice(0, 15)]).toEqual([200, 'BEGIN:VCALENDAR']);
  });
});

describe('text that no database keeps', () => {
  it.each([
    ['POST', '/api/session', { name: 'ada\0', password: PASSWORD }],
    ['POST', '/api/session', { name: 'ada', password: PASSWORD, device: 'pho\0ne' }],
    ['POST', '/api/rigs/marigold/links', { kind: 'share', label: 'a\0b' }],
    ['GET', '/api/rigs/marigold/entries/%00', undefined],
    ['GET', '/api/rigs/marigold/sendoff?trip=%00', undefined],
  ] as const)('is refused with its field: %s %s', async (method, url, body) => {
    const ada = await house.as('ada');
    const { status, json } = await ada.ask(method, url, body);
    expect([status, json.code]).toEqual([400, 'request.invalid']);
    expect(json.detail).toContain('NUL');
  });
});

describe('JSON nested without end', () => {
  const nested = (n: number) => `${'['.repeat(n)}${']'.repeat(n)}`;

  it('is refused before it is read', async () => {
    const ada = await house.as('ada');
    const value = (n: number) =>
      `{"drafts":[{"kind":"set","on":"2026-06-01","body":{"key":"day/x","value":${nested(n)}}}]}`;
    for (const [url, body] of [
      ['/api/rigs/marigold/write', value(10_000)],
      ['/api/rigs/marigold/write', value(100_000)],
      ['/api/rigs/marigold/entries', `{"entries":[${nested(30_000)}]}`],
      ['/api/rigs/marigold/entries', `{"entries":[${nested(4_000_000)}]}`],
      ['/api/calculations/tire-load', `{"size":${nested(20_000)}}`],
    ] as const) {
      const began = performance.now();
      const { status, json } = await ada.ask('POST', url, body);
      expect([url, status, json.code]).toEqual([url, 400, 'request.too-deep']);
      expect(performance.now() - began).toBeLessThan(2000);
    }
  });

  it('does not count brackets in texts', async () => {
    const ada = await house.as('ada');
    const note = `${'[{"\\'.repeat(200)}`;
    const entry = { ...entryNumber(7), body: { ...entryNumber(7).body, note } };
    const { json } = await ada.ask('POST', '/api/rigs/marigold/entries', { entries: [entry] });
    expect(json.added).toBe(1);
    expect((await ada.ask('GET', `/api/rigs/marigold/entries/${idNumber(7)}`)).json.entry.body.note).toBe(note);
  });
});

describe('wrong passwords', () => {
  const wrong = (n: number) => `guess number ${n} for her`;

  it('from one place do not lock out the right one from another', async () => {
    const guesser = house.browser('198.51.100.1');
    const codes: string[] = [];
    for (let i = 0; i < 8; i++) codes.push((await guesser.signIn('ada', wrong(i))).json.code);
    expect(codes).toEqual([...Array(5).fill('access.sign-in'), ...Array(3).fill('request.too-many')]);
    // Not even the right one from there, while it waits.
    expect((await guesser.signIn('ada')).status).toBe(429);
    expect((await house.browser('198.51.100.2').signIn('ada')).status).toBe(200);
    house.server.passMinutes(2);
    expect((await guesser.signIn('ada')).status).toBe(200);
  });

  it('from one IPv6 network are counted together', async () => {
    const codes: number[] = [];
    for (let i = 0; i < 8; i++)
      codes.push((await house.browser(`2001:db8:7:1::${i + 1}`).signIn('ada', wrong(i))).status);
    expect(codes).toEqual([401, 401, 401, 401, 401, 429, 429, 429]);
    expect((await house.browser('2001:db8:7:2::1').signIn('ada')).status).toBe(200);
  });

  it('from very many places are stopped, and still let in who signed in from where they are before', async () => {
    expect((await house.browser('203.0.113.7').signIn('ada')).status).toBe(200);
    let judged = 0;
    for (let i = 0; i < 130; i++)
      if ((await house.browser(`198.51.${i}.9`).signIn('ada', wrong(i))).status === 401) judged++;
    // NIST SP 800-63B, 3.2.2: at most 100 failures in a row on one account.
    expect(judged).toBe(100);
    expect((await house.browser('192.0.2.1').signIn('ada')).status).toBe(429);
    expect((await house.browser('203.0.113.7').signIn('ada')).status).toBe(200);
    // A known place has its own five tries, no more.
    const own: number[] = [];
    for (let i = 0; i < 7; i++) own.push((await house.browser('203.0.113.7').signIn('ada', wrong(i))).status);
    expect(own).toEqual([401, 401, 401, 401, 401, 429, 429]);
  });
});
