import sharp from 'sharp';

/** Somewhere at sea: 12° 34′ 56″ N, 45° 30′ 15″ W. */
const PLACE = {
  GPSLatitudeRef: 'N',
  GPSLatitude: '12/1 34/1 56/1',
  GPSLongitudeRef: 'W',
  GPSLongitude: '45/1 30/1 15/1',
};
export const PHOTO_TYPES = ['image/jpeg', 'image/png', 'image/webp', 'image/avif'] as const;
export type PhotoType = (typeof PHOTO_TYPES)[number];

/** Says where it was taken, in XMP, too. */
export const XMP =
  '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description xmlns:exif="http://ns.adobe.com/exif/1.0/" exif:GPSLatitude="12,34.933N" exif:GPSLongitude="45,30.25W"/></rdf:RDF></x:xmpmeta>';

/** An invented photo with a place in its Exif, in XMP and in a comment, made by an image library that is not ours. */
export async function photoWithPlace(type: PhotoType, { width = 64, height = 48, n = 0 } = {}): Promise<Buffer> {
  const raw = Buffer.alloc(width * height * 3);
  for (let at = 0; at < raw.length; at++) raw[at] = (at * 7 + n * 31 + ((at / (3 * width)) | 0) * 5) % 251;
  const picture = sharp(raw, { raw: { width, height, channels: 3 } })
    .withExif({
      IFD0: { Make: 'Invented', Model: 'Pinhole 3', ImageDescription: 'Behind the old mill' },
      IFD2: { DateTimeOriginal: '2026:05:30 10:11:12', UserComment: 'the mill', ExposureTime: '1/60' },
      IFD3: PLACE,
    })
    .withXmp(XMP)
    .withMetadata({ orientation: 6 });
  return picture.toFormat(type.slice('image/'.length) as 'jpeg', { quality: 80 }).toBuffer();
}
