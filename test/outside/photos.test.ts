import exifr from 'exifr';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { photoToShow } from '../../src/store/index.ts';
import { PHOTO_TYPES, photoWithPlace, XMP } from '../support/photos.ts';

/** The place taken out is looked for by readers that are not ours: exifr (Exif, XMP, IPTC), libvips (by sharp) for the pixels. */
const told = async (content: Buffer) =>
  (await exifr.parse(content, {
    tiff: true,
    ifd1: true,
    exif: true,
    gps: true,
    xmp: true,
    iptc: true,
    makerNote: true,
    userComment: true,
  })) ?? {};
const pixels = (content: Buffer) => sharp(content).raw().toBuffer();
const show = (content: Buffer, type: string): Buffer => {
  const shown = photoToShow(content, type);
  if (!shown.ok) throw new Error(shown.problems[0]!.what);
  return shown.value;
};
/** Of the two that exifr does not open, the block that libvips found in them. */
const blockOf = async (content: Buffer, type: string): Promise<Buffer> => {
  if (type === 'image/jpeg' || type === 'image/png') return content;
  const { exif } = await sharp(content).metadata();
  if (!exif) return Buffer.alloc(0);
  return exif.toString('latin1', 0, 4) === 'Exif' ? exif.subarray(6) : exif;
};

describe.each(PHOTO_TYPES)('a photo that leaves the house: %s', (type) => {
  it('has no place, no words and no XMP left, and the very same pixels, turned as before', async () => {
    const before = await photoWithPlace(type);
    const kept = Buffer.from(before);
    const after = show(before, type);
    expect(before.equals(kept)).toBe(true);
    expect((await pixels(after)).equals(await pixels(before))).toBe(true);
    const [was, is] = [await told(await blockOf(before, type)), await told(await blockOf(after, type))];
    expect(was.latitude).toBeCloseTo(12 + 34 / 60 + 56 / 3600, 6);
    expect(JSON.stringify(is)).not.toMatch(/gps|latitude|longitude|mill/i);
    expect(is.Make).toBe('Invented');
    expect(is.DateTimeOriginal).toEqual(was.DateTimeOriginal);
    expect(is.ExposureTime).toBeCloseTo(1 / 60, 6);
    const [from, to] = [await sharp(before).metadata(), await sharp(after).metadata()];
    expect([to.orientation, to.width, to.height, to.format]).toEqual([
      from.orientation,
      from.width,
      from.height,
      from.format,
    ]);
    expect(from.xmp?.toString() ?? '').toContain('GPSLatitude');
    expect(to.xmp?.toString().trim() ?? '').toBe('');
    for (const word of ['12,34.933N', 'mill', 'xmpmeta']) expect(after.includes(word)).toBe(false);
    expect(show(after, type).equals(after)).toBe(true);
  });

  it('cut short or with bytes turned never comes out with its place, and never breaks the program', async () => {
    const before = await photoWithPlace(type);
    for (let at = 0; at < before.length; at += Math.max(1, Math.floor(before.length / 200))) {
      const torn = photoToShow(before.subarray(0, at), type);
      if (torn.ok) expect(torn.value.includes('12,34.933N')).toBe(false);
      const turned = Buffer.from(before);
      turned[at] = turned[at]! ^ 0xff;
      const shown = photoToShow(turned, type);
      if (shown.ok)
        expect((await told(shown.value).catch(() => ({}) as Record<string, unknown>)).latitude).toBeUndefined();
    }
  });
});

describe('what else may carry a place', () => {
  it('a JPEG’s comment, makers’ segments, second picture and trailer are left at home', async () => {
    const before = await photoWithPlace('image/jpeg');
    const segment = (marker: number, text: string) => {
      const head = Buffer.from([0xff, marker, 0, 0]);
      head.writeUInt16BE(2 + text.length, 2);
      return Buffer.concat([head, Buffer.from(text, 'latin1')]);
    };
    const more = Buffer.concat([
      before.subarray(0, 2),
      segment(0xfe, 'at the old mill'),
      segment(0xed, 'Photoshop 3.0\0 8BIM city: Oldmill'),
      segment(0xe2, 'MPF\0 more pictures'),
      before.subarray(2),
      Buffer.from('a film with a place: +12.5822-045.5042/'),
      before,
    ]);
    expect(show(more, 'image/jpeg').equals(show(before, 'image/jpeg'))).toBe(true);
  });

  it('a PDF’s photo and open metadata are written over where they stand', async () => {
    const photo = await photoWithPlace('image/jpeg');
    const before = Buffer.concat([Buffer.from('%PDF-1.7\n'), photo, Buffer.from(`\n${XMP}\n%%EOF`)]);
    const after = show(before, 'application/pdf');
    expect(after.length).toBe(before.length);
    expect((await told(after.subarray(9))).latitude).toBeUndefined();
    expect(after.includes('12,34.933N')).toBe(false);
    expect((await pixels(after.subarray(9, 9 + photo.length))).equals(await pixels(photo))).toBe(true);
  });

  it('a film in a HEIC, or what only claims to be a picture, is not handed on', async () => {
    const avif = await photoWithPlace('image/avif');
    const film = Buffer.concat([avif, Buffer.from([0, 0, 0, 8]), Buffer.from('moov')]);
    for (const [content, type] of [
      [film, 'image/heic'],
      [Buffer.from('....ftypheic'), 'image/heic'],
      [Buffer.from([0xff, 0xd8, 0xff, 0xe0]), 'image/jpeg'],
    ] as const)
      expect(photoToShow(content, type)).toMatchObject({ ok: false, problems: [{ code: 'store.photo-place' }] });
  });
});
