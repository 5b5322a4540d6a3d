import { fail, ok, type Result } from '../../problem/index.ts';
import { jpegToShow, pdfToShow, pngToShow, webpToShow } from './containers.ts';
import { heifToShow } from './heif.ts';

const WAYS: Readonly<Record<string, (from: Buffer) => Buffer | undefined>> = {
  'image/jpeg': jpegToShow,
  'image/png': pngToShow,
  'image/webp': webpToShow,
  'image/heic': heifToShow,
  'image/avif': heifToShow,
  'application/pdf': pdfToShow,
};

/**
 * A photo as it may leave the house: the very same picture, bit by bit, without where it was taken, and without comments, makers' notes
 * and serial numbers. What is kept at home is not touched.
 *
 * Problems: `store.photo-place` (built in a way in which the place cannot be found for sure: it is then not handed on).
 */
export function photoToShow(content: Uint8Array, type: string): Result<Buffer> {
  const from = Buffer.from(content.buffer, content.byteOffset, content.byteLength);
  const shown = attempt(() => WAYS[type]?.(from));
  return shown
    ? ok(shown)
    : fail({
        code: 'store.photo-place',
        what: 'Where this photo was taken cannot be taken out of it for sure, so it is not handed on',
        next: 'An owner can hand it on as it is, or save it anew as JPEG.',
      });
}

/** Undefined, too, where a read goes beyond the end: the file is not as it should be. */
function attempt<T>(act: () => T): T | undefined {
  try {
    return act();
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}
