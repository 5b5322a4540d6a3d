import type { Entry as Part } from 'yauzl';
import { BLOB_BYTES_MAX } from '../blob.ts';
import { ABOUT_FILE, LOGBOOK_FILE, PHOTO_FILE } from './about.ts';

/**
 * Bounds of an archive that is read, so that a small file cannot become a large one. They are far above what a rig can bring
 * together, and `makeArchive` keeps to them.
 */
export const LIMITS = {
  /** Photos and papers, and the two files beside them. */
  parts: 10_002,
  aboutBytes: 16 * 1024 * 1024,
  logbookBytes: 512 * 1024 * 1024,
  wholeBytes: 32 * 1024 * 1024 * 1024,
  entries: 1_000_000,
  /** Bytes out for each byte in. Deflate comes to 1,032 at most (zlib's technical notes); text of a logbook to some 10 to 60. */
  ratio: 200,
  /** Below this no ratio is too high: it does no harm. */
  ratioFromBytes: 16 * 1024 * 1024,
} as const;

const bytesMax = (name: string): number | undefined =>
  name === ABOUT_FILE
    ? LIMITS.aboutBytes
    : name === LOGBOOK_FILE
      ? LIMITS.logbookBytes
      : PHOTO_FILE.test(name)
        ? BLOB_BYTES_MAX
        : undefined;

const isTooDense = (unpacked: number, packed: number): boolean =>
  unpacked > LIMITS.ratioFromBytes && unpacked > packed * LIMITS.ratio;

/** What is wrong with the parts of an archive by what its directory says of them, before any is unpacked. */
export function unsafe(parts: readonly Part[], fileBytes: number): string | undefined {
  const names = new Set<string>();
  let whole = 0;
  for (const { fileName, uncompressedSize, compressedSize } of parts) {
    const most = bytesMax(fileName);
    if (most === undefined) return `“${fileName.slice(0, 80)}” does not belong into an archive`;
    if (names.has(fileName)) return `${fileName} is in it twice`;
    names.add(fileName);
    if (uncompressedSize > most)
      return `${fileName} would have ${uncompressedSize} bytes; at most ${most} are unpacked`;
    if (isTooDense(uncompressedSize, compressedSize))
      return `${fileName} would grow by more than ${LIMITS.ratio} times`;
    whole += uncompressedSize;
  }
  if (whole > LIMITS.wholeBytes) return `It would have ${whole} bytes; at most ${LIMITS.wholeBytes} are unpacked`;
  // Parts that share the same packed bytes.
  return isTooDense(whole, fileBytes) ? `It would grow by more than ${LIMITS.ratio} times` : undefined;
}
