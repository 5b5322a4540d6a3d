import type { Sharp } from 'sharp';
import { fail, ok, type Result } from '../problem/index.ts';

/** Longest side of a thumbnail in pixels: two of them side by side on a telephone, at twice its pixels. */
export const THUMBNAIL_PX = 480;
export const THUMBNAIL_TYPE = 'image/webp';
/** Larger pictures are not opened: 12 MiB can claim to be a picture of any size. */
const PIXELS_MAX = 120_000_000;

/** How a photo is written anew. The pixels change by less than one sees; AVIF at its quickest still takes seconds. */
const WRITTEN_ANEW: Readonly<Record<string, (picture: Sharp) => Sharp>> = {
  'image/jpeg': (picture) => picture.jpeg({ quality: 92 }),
  'image/png': (picture) => picture.png(),
  'image/webp': (picture) => picture.webp({ quality: 92 }),
  'image/avif': (picture) => picture.avif({ quality: 75, effort: 0 }),
};

/**
 * A photo as it may leave the house: turned the right way up and written anew with nothing but its pixels and colours, so without where
 * it was taken. What is kept at home is not touched. A PDF is no photo and goes as it is.
 *
 * Problems: `store.photo-place` (a HEIC, or a file that cannot be opened: it is then not handed on).
 */
export async function photoToShow(content: Uint8Array, type: string): Promise<Result<Uint8Array>> {
  if (type === 'application/pdf') return ok(content);
  const anew = WRITTEN_ANEW[type];
  const shown = anew && (await opened(content, (picture) => anew(picture.keepIccProfile())));
  return shown?.ok
    ? shown
    : fail({
        code: 'store.photo-place',
        what: 'Where this photo was taken cannot be taken out of it here, so it is not handed on',
        next: 'An owner can hand it on as it is, or save it anew as JPEG.',
      });
}

/**
 * A small picture of a photo, turned the right way up, with none of its metadata. Problems: `store.no-thumbnail` (a PDF, a HEIC, or a
 * file that cannot be opened).
 */
export async function thumbnailOf(content: Uint8Array, type: string): Promise<Result<Buffer>> {
  const next = 'Open the file itself.';
  if (!type.startsWith('image/'))
    return fail({ code: 'store.no-thumbnail', what: 'A paper has no small picture', next });
  const small = await opened(content, (picture) =>
    picture.resize(THUMBNAIL_PX, THUMBNAIL_PX, { fit: 'inside', withoutEnlargement: true }).webp({ quality: 70 }),
  );
  if (small.ok) return small;
  return fail({
    code: 'store.no-thumbnail',
    what: `This picture cannot be opened here: ${small.problems[0]!.what}`,
    next,
  });
}

/** One at a time: a large photo takes some hundred megabytes while it is worked on. */
let last: Promise<unknown> = Promise.resolve();

function opened(content: Uint8Array, work: (picture: Sharp) => Sharp): Promise<Result<Buffer>> {
  const made = last.then(async (): Promise<Result<Buffer>> => {
    const { default: sharp } = await import('sharp');
    try {
      return ok(await work(sharp(content, { limitInputPixels: PIXELS_MAX }).autoOrient()).toBuffer());
    } catch (error) {
      return fail({ code: 'store.no-picture', what: (error as Error).message.split('\n')[0]! });
    }
  });
  last = made;
  return made;
}
