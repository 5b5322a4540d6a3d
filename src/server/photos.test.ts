import exifr from 'exifr';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Browser, Household } from '../../test/support/household.ts';
import { photoWithPlace } from '../../test/support/photos.ts';

let house: Household;
let photo: Buffer;
let url: string;
let ben: Browser;
beforeEach(async () => {
  house = await Household.start();
  ben = await house.as('ben');
  photo = await photoWithPlace('image/jpeg', { width: 900, height: 600 });
  const kept = await ben.ask('POST', '/api/rigs/marigold/blobs', photo, { 'content-type': 'image/jpeg' });
  url = `/api/rigs/marigold/blobs/${kept.json.hash}`;
});
afterEach(async () => {
  expect(house.server.failures).toEqual([]);
  await house.stop();
});
const placeOf = async (content: Buffer) => (await exifr.gps(content)) ?? null;

describe('a photo with a place', () => {
  it('is whole for the household, and for readers and links the picture without its place', async () => {
    expect(await placeOf(photo)).not.toBe(null);
    const ada = await house.as('ada');
    for (const browser of [ada, ben]) expect((await browser.ask('GET', url)).raw.equals(photo)).toBe(true);
    const { token } = (await ada.ask('POST', '/api/rigs/marigold/links', { kind: 'share', label: 'a buyer' })).json;
    const cleo = await house.as('cleo');
    const shown = [
      await cleo.ask('GET', url),
      await house.browser().ask('GET', url, undefined, { 'x-rig-link': token }),
    ];
    for (const { raw, headers } of shown) {
      expect(await placeOf(raw)).toBe(null);
      const { width, height, exif } = await sharp(raw).metadata();
      expect([width, height, exif]).toEqual([600, 900, undefined]);
      // A tag of its own: who gets another role is not left with the other bytes.
      expect(headers.etag).not.toBe((await ada.ask('GET', url)).headers.etag);
    }
    expect((await house.server.store.getBlob('marigold', url.split('/').at(-1)!))!.content).toEqual(photo);
  });

  it('that cannot be freed of its place is not handed on', async () => {
    const torn = await ben.ask('POST', '/api/rigs/marigold/blobs', photo.subarray(0, 4000), {
      'content-type': 'image/jpeg',
    });
    const cleo = await house.as('cleo');
    const answer = await cleo.ask('GET', `/api/rigs/marigold/blobs/${torn.json.hash}`);
    expect([answer.status, answer.json.code]).toEqual([422, 'store.photo-place']);
  });

  it('has a small picture at an address of its own, with a tag, without place', async () => {
    const small = await ben.ask('GET', `${url}/thumbnail`);
    expect([small.status, small.headers['content-type']]).toEqual([200, 'image/webp']);
    expect(small.headers['cache-control']).toContain('immutable');
    const { width, height, exif } = await sharp(small.raw).metadata();
    expect([width, height, exif]).toEqual([320, 480, undefined]);
    expect(small.raw.length).toBeLessThan(photo.length);
    const again = await ben.ask('GET', `${url}/thumbnail`, undefined, { 'if-none-match': String(small.headers.etag) });
    expect([again.status, again.text]).toEqual([304, '']);
    const pdf = await ben.ask('POST', '/api/rigs/marigold/blobs', Buffer.from('%PDF-1.7\n%%EOF'), {
      'content-type': 'application/pdf',
    });
    const none = await ben.ask('GET', `/api/rigs/marigold/blobs/${pdf.json.hash}/thumbnail`);
    expect([none.status, none.json.code]).toEqual([404, 'store.no-thumbnail']);
    expect((await ben.ask('GET', `/api/rigs/marigold/blobs/${'a'.repeat(64)}/thumbnail`)).status).toBe(404);
  });
});
