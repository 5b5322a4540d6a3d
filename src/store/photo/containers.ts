import { crc32 } from 'node:zlib';
import { exifToShow } from './exif.ts';

/** Parts of a file are taken over by a list of what a picture needs to be shown; everything else stays at home. */

const EXIF_MARK = Buffer.from('Exif\0\0', 'latin1');

/** A JPEG (ITU-T T.81, JFIF, Exif) up to the end of its picture: no second pictures, films or makers' trailers. */
export function jpegToShow(from: Buffer): Buffer | undefined {
  const kept: Buffer[] = [from.subarray(0, 2)];
  for (let at = 2; ; ) {
    // Any number of fill bytes may stand before a marker.
    while (from[at] === 0xff && from[at + 1] === 0xff) at++;
    if (from[at] !== 0xff || at + 4 > from.length) return undefined;
    const marker = from[at + 1]!;
    if (marker === 0xd9) return undefined;
    const end = at + 2 + from.readUInt16BE(at + 2);
    if (end > from.length) return undefined;
    const segment = from.subarray(at, end);
    if (marker === 0xda) {
      const close = endOfScans(from, end);
      if (close === undefined) return undefined;
      return Buffer.concat([...kept, from.subarray(at, close)]);
    }
    const shown = segmentToShow(marker, segment);
    if (shown) kept.push(shown);
    at = end;
  }
}

function segmentToShow(marker: number, segment: Buffer): Buffer | undefined {
  // Comments, and what programs add: APP0 JFIF, APP2 the colours' profile, APP14 how colours are stored.
  if (marker === 0xfe) return undefined;
  if (marker < 0xe0 || marker > 0xef) return segment;
  const named = (name: string): boolean => segment.toString('latin1', 4, 4 + name.length) === name;
  if ((marker === 0xe0 && named('JFIF\0')) || (marker === 0xe2 && named('ICC_PROFILE\0'))) return segment;
  if (marker === 0xee && named('Adobe')) return segment;
  if (marker !== 0xe1 || !named('Exif\0\0')) return undefined;
  const exif = exifToShow(segment.subarray(10));
  if (!exif) return undefined;
  const head = Buffer.from([0xff, 0xe1, 0, 0]);
  head.writeUInt16BE(2 + EXIF_MARK.length + exif.length, 2);
  return Buffer.concat([head, EXIF_MARK, exif]);
}

/** Just after the marker that ends the picture. Within a scan FF is followed by 00 or a restart; tables may stand between scans. */
function endOfScans(from: Buffer, start: number): number | undefined {
  for (let at = from.indexOf(0xff, start); at !== -1 && at + 1 < from.length; ) {
    const marker = from[at + 1]!;
    if (marker === 0xd9) return at + 2;
    if (marker === 0xff) at += 1;
    else if (marker === 0x00 || (marker >= 0xd0 && marker <= 0xd7)) at = from.indexOf(0xff, at + 2);
    // What a program added has no business between scans.
    else if ((marker >= 0xe0 && marker <= 0xef) || marker === 0xfe || at + 4 > from.length) return undefined;
    else at = from.indexOf(0xff, at + 2 + from.readUInt16BE(at + 2));
  }
  return undefined;
}

const PNG_CHUNKS = new Set(
  'IHDR PLTE IDAT IEND tRNS gAMA cHRM sRGB iCCP cICP sBIT pHYs bKGD acTL fcTL fdAT eXIf'.split(' '),
);

/** A PNG (W3C, third edition): no texts, no times, nothing after its end. */
export function pngToShow(from: Buffer): Buffer | undefined {
  const kept: Buffer[] = [from.subarray(0, 8)];
  for (let at = 8; at + 12 <= from.length; ) {
    const end = at + 12 + from.readUInt32BE(at);
    if (end > from.length) return undefined;
    const type = from.toString('latin1', at + 4, at + 8);
    if (type === 'eXIf') {
      const exif = exifToShow(from.subarray(at + 8, end - 4));
      if (exif) kept.push(pngChunk('eXIf', exif));
    } else if (PNG_CHUNKS.has(type)) kept.push(from.subarray(at, end));
    if (type === 'IEND') return Buffer.concat(kept);
    at = end;
  }
  return undefined;
}

function pngChunk(type: string, data: Buffer): Buffer {
  const chunk = Buffer.alloc(12 + data.length);
  chunk.writeUInt32BE(data.length, 0);
  chunk.write(type, 4, 'latin1');
  data.copy(chunk, 8);
  chunk.writeUInt32BE(crc32(chunk.subarray(4, 8 + data.length)), 8 + data.length);
  return chunk;
}

const WEBP_CHUNKS = new Set(['VP8 ', 'VP8L', 'VP8X', 'ALPH', 'ANIM', 'ANMF', 'ICCP']);
const WEBP_EXIF_FLAG = 0x08;
const WEBP_XMP_FLAG = 0x04;

/** A WebP (RFC 9649): no XMP, no chunks of others. */
export function webpToShow(from: Buffer): Buffer | undefined {
  const kept: Buffer[] = [];
  let exif: Buffer | undefined;
  const close = Math.min(from.length, 8 + from.readUInt32LE(4));
  for (let at = 12; at + 8 <= close; ) {
    const data = at + 8;
    const end = data + from.readUInt32LE(at + 4);
    if (end > close) return undefined;
    const type = from.toString('latin1', at, at + 4);
    if (type === 'EXIF') {
      const block = from.subarray(data, end);
      exif = exifToShow(block.subarray(0, 6).equals(EXIF_MARK) ? block.subarray(6) : block);
    } else if (WEBP_CHUNKS.has(type)) kept.push(riffChunk(type, from.subarray(data, end)));
    at = end + (end % 2);
  }
  if (!kept.length) return undefined;
  if (exif) kept.push(riffChunk('EXIF', exif));
  const extended = kept.find((chunk) => chunk.toString('latin1', 0, 4) === 'VP8X');
  if (extended) extended[8] = (extended[8]! & ~(WEBP_EXIF_FLAG | WEBP_XMP_FLAG)) | (exif ? WEBP_EXIF_FLAG : 0);
  const body = Buffer.concat(kept);
  const head = Buffer.from('RIFF    WEBP', 'latin1');
  head.writeUInt32LE(4 + body.length, 4);
  return Buffer.concat([head, body]);
}

function riffChunk(type: string, data: Buffer): Buffer {
  const chunk = Buffer.alloc(8 + data.length + (data.length % 2));
  chunk.write(type, 0, 'latin1');
  chunk.writeUInt32LE(data.length, 4);
  data.copy(chunk, 8);
  return chunk;
}

const PACKETS: readonly (readonly [string, string])[] = [
  ['<?xpacket begin', '<?xpacket end'],
  ['<x:xmpmeta', '</x:xmpmeta>'],
];

/**
 * A PDF (ISO 32000) with what its photos and its metadata say in the open written over in its place: its parts are found by their
 * offsets. What is packed within it is not looked into.
 */
export function pdfToShow(from: Buffer): Buffer {
  const to = Buffer.from(from);
  for (let at = to.indexOf(EXIF_MARK); at !== -1; at = to.indexOf(EXIF_MARK, at + 1)) {
    if (at < 4 || to[at - 4] !== 0xff || to[at - 3] !== 0xe1) continue;
    const [start, end] = [at + EXIF_MARK.length, Math.min(to.length, at - 2 + to.readUInt16BE(at - 2))];
    if (end <= start) continue;
    const exif = exifToShow(Buffer.from(to.subarray(start, end)));
    to.fill(0, start, end);
    if (exif && exif.length <= end - start) exif.copy(to, start);
  }
  for (const [begin, close] of PACKETS) {
    for (let at = to.indexOf(begin); at !== -1; at = to.indexOf(begin, at + 1)) {
      const end = to.indexOf(close, at);
      if (end !== -1) to.fill(' ', at, end);
    }
  }
  return to;
}
