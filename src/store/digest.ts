import { createHash } from 'node:crypto';
import { type Entry, writeEntry } from '../logbook/index.ts';

/** SHA-256 of what is kept of an entry: who handed it in, and its line. */
export function sealOf(via: string, line: string): Buffer {
  return createHash('sha256').update(via).update('\n').update(line).digest();
}

/** SHA-256 over the lines of a logbook in the order of their ids, a line feed after each. */
export class LogbookDigest {
  readonly #hash = createHash('sha256');

  /** Lines must come in the order of their ids. */
  add(line: string): void {
    this.#hash.update(line).update('\n');
  }

  end(): string {
    return this.#hash.digest('hex');
  }
}

/** The digest of a set of entries, whatever their order: what a history sheet states and a restore is compared by. */
export function digestOf(entries: Iterable<Entry>): string {
  const byId = new Map([...entries].map((entry) => [entry.id, entry]));
  const digest = new LogbookDigest();
  for (const id of [...byId.keys()].sort()) digest.add(writeEntry(byId.get(id)!));
  return digest.end();
}
