import { fail, ok, type Result } from '../../problem/index.ts';

/** Longest side of a thumbnail in pixels: two of them side by side on a telephone, at twice its pixels. */
export const THUMBNAIL_PX = 480;
export const THUMBNAIL_TYPE = 'image/webp';
/** Larger pictures are not opened: 12 MiB can claim to be a picture of any size. */
const PIXELS_MAX = 120_000_000;

/** One at a time: a large photo takes some hundred megabytes while it is worked on. */
let last: Promise<unknown> = Promise.resolve();

/**
 * A small picture of a photo, turned the right way up, with none of its metadata. Problems: `store.no-thumbnail` (a PDF, a HEIC, or a
 * file that cannot be opened).
 */
export function thumbnailOf(content: Uint8Array, type: string): Promise<Result<Buffer>> {
  const made = last.then(() => make(content, type));
  last = made.catch(() => undefined);
  return made;
}

async function make(content: Uint8Array, type: string): Promise<Result<Buffer>> {
  const none = (what: string): Result<Buffer> =>
    fail({ code: 'store.no-thumbnail', what, next: 'Open the file itself.' });
  if (!type.startsWith('image/')) return none('A paper has no small picture');
  const { default: sharp } = await import('sharp');
  try {
    const small = await sharp(content, { limitInputPixels: PIXELS_MAX })
      .autoOrient()
      .resize(THUMBNAIL_PX, THUMBNAIL_PX, { fit: 'inside', withoutEnlargement: true })
      .webp({ quality: 70 })
      .toBuffer();
    return ok(small);
  } catch (error) {
    return none(`This picture cannot be opened here: ${(error as Error).message.split('\n')[0]}`);
  }
}
