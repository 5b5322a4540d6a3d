import exifr from 'exifr';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { photoToShow } from '../../src/store/index.ts';
import { PHOTO_TYPES, photoWithPlace } from '../support/photos.ts';

/** The place taken out is looked for by a reader that is not ours: exifr (Exif, XMP, IPTC), where it opens the kind of file. */
const told = async (content: Uint8Array) =>
  (await exifr.parse(Buffer.from(content), {
    tiff: true,
    ifd1: true,
    exif: true,
    gps: true,
    xmp: true,
    iptc: true,
    makerNote: true,
    userComment: true,
  })) ?? {};

async function show(content: Uint8Array, type: string): Promise<Uint8Array> {
  const shown = await photoToShow(content, type);
  if (!shown.ok) throw new Error(shown.problems[0]!.what);
  return shown.value;
}

/** Mean difference of two pictures of one size, in steps of 255. */
async function difference(a: Uint8Array, b: Uint8Array): Promise<number> {
  const [one, other] = await Promise.all([a, b].map((content) => sharp(content).autoOrient().raw().toBuffer()));
  expect(one!.length).toBe(other!.length);
  return one!.reduce((sum, value, at) => sum + Math.abs(value - other![at]!), 0) / one!.length;
}

/** Whatever metadata there is, in the bytes as they stand. */
const WORDS = ['Exif', '12,34.933N', 'mill', 'xmpmeta', 'Invented'];

describe.each(PHOTO_TYPES)('a photo that leaves the house: %s', (type) => {
  it('is the same picture, right way up, with no place, no words and nothing else said of it', async () => {
    const before = await photoWithPlace(type);
    const kept = Buffer.from(before);
    const after = await show(before, type);
    expect(before.equals(kept)).toBe(true);
    expect(await difference(before, after)).toBeLessThan(type === 'image/png' ? 1e-9 : 12);
    const [was, is] = await Promise.all([before, after].map((content) => sharp(content).metadata()));
    expect([is!.format, is!.autoOrient, is!.exif, is!.xmp]).toEqual([
      was!.format,
      was!.autoOrient,
      undefined,
      undefined,
    ]);
    expect(is!.orientation ?? 1).toBe(1);
    expect(was!.exif).toBeDefined();
    for (const word of WORDS) expect([word, Buffer.from(after).includes(word)]).toEqual([word, false]);
    if (type !== 'image/jpeg' && type !== 'image/png') return;
    expect((await told(before)).latitude).toBeCloseTo(12 + 34 / 60 + 56 / 3600, 6);
    expect(JSON.stringify(await told(after))).not.toMatch(/gps|latitude|longitude|make|date/i);
  });

  it('cut short or with bytes turned never comes out with its place, and never breaks the program', async () => {
    const before = await photoWithPlace(type);
    for (let at = 0; at < before.length; at += Math.max(1, Math.floor(before.length / 20))) {
      const turned = Buffer.from(before);
      turned[at] = turned[at]! ^ 0xff;
      for (const broken of [before.subarray(0, at), turned]) {
        const shown = await photoToShow(broken, type);
        if (shown.ok) expect(Buffer.from(shown.value).includes('12,34.933N')).toBe(false);
        else expect(shown.problems[0]!.code).toBe('store.photo-place');
      }
    }
  });
});

describe('what else may leave', () => {
  it('a JPEG without what programs put before and behind its picture', async () => {
    const before = await photoWithPlace('image/jpeg');
    const comment = Buffer.concat([Buffer.from([0xff, 0xfe, 0, 17]), Buffer.from('at the old mill')]);
    const more = Buffer.concat([
      before.subarray(0, 2),
      comment,
      before.subarray(2),
      Buffer.from('a film with a place: +12.5822-045.5042/'),
    ]);
    const after = Buffer.from(await show(more, 'image/jpeg'));
    expect(after.equals(Buffer.from(await show(before, 'image/jpeg')))).toBe(true);
  });

  it('a HEIC, or what only claims to be a picture, does not; a PDF is a paper and goes as it is', async () => {
    for (const [content, type] of [
      [Buffer.from('....ftypheic'), 'image/heic'],
      [Buffer.from([0xff, 0xd8, 0xff, 0xe0]), 'image/jpeg'],
    ] as const)
      expect(await photoToShow(content, type)).toMatchObject({ ok: false, problems: [{ code: 'store.photo-place' }] });
    const paper = Buffer.from('%PDF-1.7\n%%EOF');
    expect(await show(paper, 'application/pdf')).toEqual(paper);
  });
});
