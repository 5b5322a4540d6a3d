import { ulid } from 'ulid';
import { type Draft, ENTRY_VERSION, type Entry, readEntry, writeEntry } from '../../src/logbook/index.ts';
import { unwrap } from '../../src/problem/index.ts';

export type Writer = 'Nell' | 'Otis';

export const RIG = 'marigold';

/** A quantity as it stands in an entry. */
export const q = (value: number, unit: string) => ({ value, unit });
export const miles = (value: number) => q(value, 'mi');
export const psi = (value: number) => q(value, 'psi');
export const lb = (value: number) => q(value, 'lb');

/** A number in [0, 1), the same ones for the same seed (mulberry32, a public-domain generator). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** A draft with looser types than `Draft`: `readEntry` checks it before it is kept. */
type Sketch = { [K in Draft['kind']]: { kind: K; body: object } }[Draft['kind']];

/** The logbook being written: gives ids and instants, and remembers what was written. */
export class Book {
  readonly #lines: { readonly at: string; readonly order: number; readonly sketch: Omit<Entry, 'id'> }[] = [];

  /** Writes one entry: `on` the day it speaks of, written down that day unless `late` names a later one. */
  write(by: Writer, on: string, sketch: Sketch, late: string = on): { readonly at: string } {
    const order = this.#lines.length;
    const sameDay = this.#lines.filter((line) => line.at.startsWith(late)).length;
    // 16:10 UTC and later: the working day at home, and the same date in both places.
    const minute = String(10 + (sameDay % 50)).padStart(2, '0');
    const hour = String(16 + Math.floor(sameDay / 50)).padStart(2, '0');
    const line = { at: `${late}T${hour}:${minute}:00Z`, order };
    this.#lines.push({
      ...line,
      sketch: { rig: RIG, kind: sketch.kind, on, at: line.at, by, v: ENTRY_VERSION, body: sketch.body } as never,
    });
    return line;
  }

  /** Every entry in the order of writing, checked. Ids come from the instants and one seed. A strike names its target by its instant. */
  entries(seed: number): Entry[] {
    const random = seeded(seed);
    const sorted = [...this.#lines].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.order - b.order));
    const idAt = new Map<string, string>();
    return sorted.map(({ at, sketch }, index) => {
      const id = ulid(Date.parse(at), random);
      idAt.set(at, id);
      const body = sketch.body as { entry?: string };
      const named = sketch.kind === 'strike' ? { ...body, entry: idAt.get(body.entry ?? '') } : body;
      return unwrap(readEntry({ id, ...sketch, body: named }, `entry ${index + 1}`));
    });
  }
}

/** The file: one entry a line, as export writes it. */
export function asJsonLines(entries: readonly Entry[]): string {
  return `${entries.map(writeEntry).join('\n')}\n`;
}
