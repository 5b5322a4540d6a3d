import { fail, ok, type Result } from '../../problem/index.ts';

/** Encodings in which spreadsheet programs save text, as the Encoding Standard names them. */
export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/**
 * In which encoding the bytes of a text file are: by its byte order mark; by the zero bytes that UTF-16 leaves in Latin text; else
 * UTF-8 where the bytes can be that, and Windows-1252 where they cannot.
 *
 * Problems: `table.workbook` (a zip archive or a compound file: .xlsx, .ods, .xls).
 */
export function encodingOf(bytes: Uint8Array): Result<TextEncoding> {
  const begins = (...magic: number[]): boolean => magic.every((byte, index) => bytes[index] === byte);
  if (begins(0x50, 0x4b, 0x03, 0x04) || begins(0xd0, 0xcf, 0x11, 0xe0)) {
    return fail({
      code: 'table.workbook',
      what: 'This is a workbook, not text',
      expected: 'one sheet of it, saved as CSV',
      next: 'In your spreadsheet program: save a copy as “Text CSV” (UTF-8), and bring that.',
    });
  }
  if (begins(0xef, 0xbb, 0xbf)) return ok('utf-8');
  if (begins(0xff, 0xfe)) return ok('utf-16le');
  if (begins(0xfe, 0xff)) return ok('utf-16be');
  const head = bytes.subarray(0, 512);
  const zeros = (parity: 0 | 1): number => head.filter((byte, index) => byte === 0 && index % 2 === parity).length;
  if (zeros(1) > head.length / 4) return ok('utf-16le');
  if (zeros(0) > head.length / 4) return ok('utf-16be');
  return ok(isUtf8(bytes) ? 'utf-8' : 'windows-1252');
}

/** Whether lead and continuation bytes follow each other as in UTF-8 (RFC 3629). */
function isUtf8(bytes: Uint8Array): boolean {
  let due = 0;
  for (const byte of bytes) {
    if (due > 0) {
      if (byte >> 6 !== 0b10) return false;
      due--;
    } else if (byte >= 0x80) {
      if (byte < 0xc2 || byte > 0xf4) return false;
      due = byte < 0xe0 ? 1 : byte < 0xf0 ? 2 : 3;
    }
  }
  return due === 0;
}
