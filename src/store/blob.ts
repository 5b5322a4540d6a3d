import { createHash } from 'node:crypto';
import { fail, ok, type Result } from '../problem/index.ts';

/** Largest photo or paper kept: 12 MiB, room for a phone camera's photo at full size. */
export const BLOB_BYTES_MAX = 12 * 1024 * 1024;

export interface BlobInfo {
  /** SHA-256 of the content, 64 hexadecimal digits. */
  readonly hash: string;
  /** Media type, found by looking at the content. */
  readonly type: string;
  readonly bytes: number;
}

export interface StoredBlob extends BlobInfo {
  readonly content: Uint8Array;
}

/** First bytes of the kinds of file that are kept; nothing that a browser would run. `at` is where the bytes stand. */
const signatures: readonly { type: string; at: number; bytes: string }[] = [
  { type: 'image/jpeg', at: 0, bytes: '\xff\xd8\xff' },
  { type: 'image/png', at: 0, bytes: '\x89PNG\r\n\x1a\n' },
  { type: 'image/webp', at: 8, bytes: 'WEBP' },
  { type: 'image/heic', at: 4, bytes: 'ftypheic' },
  { type: 'image/heic', at: 4, bytes: 'ftypmif1' },
  { type: 'image/avif', at: 4, bytes: 'ftypavif' },
  { type: 'application/pdf', at: 0, bytes: '%PDF-' },
];

/** The media type that the content itself shows, or undefined. */
export function sniffType(content: Uint8Array): string | undefined {
  const head = Buffer.from(content.subarray(0, 32)).toString('latin1');
  return signatures.find(({ at, bytes }) => head.startsWith(bytes, at))?.type;
}

/** What a blob is, or why it is not kept. Problems: `store.blob-size`, `store.blob-kind`. */
export function readBlob(content: Uint8Array): Result<BlobInfo> {
  if (content.byteLength > BLOB_BYTES_MAX) {
    return fail({
      code: 'store.blob-size',
      what: `The file has ${(content.byteLength / 1048576).toFixed(1)} MiB`,
      expected: `at most ${BLOB_BYTES_MAX / 1048576} MiB`,
      next: 'Make the photo smaller, then try again.',
    });
  }
  const type = sniffType(content);
  if (!type) {
    return fail({
      code: 'store.blob-kind',
      what: 'This kind of file is not kept',
      expected: 'a photo (JPEG, PNG, WebP, HEIC, AVIF) or a PDF',
    });
  }
  return ok({ hash: blobHash(content), type, bytes: content.byteLength });
}

export function blobHash(content: Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
