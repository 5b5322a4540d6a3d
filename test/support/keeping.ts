import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ulid } from 'ulid';
import type { Entry } from '../../src/logbook/index.ts';

/** An entry of an invented rig; `n` makes its id, so that the same `n` is the same entry. */
export function entryNumber(n: number, rig = 'marigold', note = `reading ${n}`): Entry {
  return {
    id: idNumber(n),
    rig,
    kind: 'reading',
    on: '2026-05-01',
    at: '2026-05-01T10:00:00Z',
    by: 'Ada',
    v: 1,
    body: { part: 'spare', what: 'pressure-cold', value: { value: 50 + (n % 10), unit: 'psi' }, note },
  };
}

const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** A ULID made of a number. */
export function idNumber(n: number): string {
  let digits = '';
  for (let rest = n; digits.length < 16; rest = Math.floor(rest / 32)) digits = ALPHABET[rest % 32]! + digits;
  return `01J0000000${digits}`;
}

/** An id that nobody had before. */
export function newId(): string {
  return ulid();
}

/** The smallest content that is seen as a PNG, `n` making it another. */
export function pngNumber(n: number, bytes = 64): Uint8Array {
  const content = Buffer.alloc(bytes, n);
  content.write('\x89PNG\r\n\x1a\n', 0, 'latin1');
  return content;
}

/** A folder of its own that is gone after the test. */
export class Folder {
  readonly path = mkdtempSync(join(tmpdir(), 'rigworthy-'));

  file(name: string): string {
    return join(this.path, name);
  }

  remove(): void {
    rmSync(this.path, { recursive: true, force: true });
  }
}
