import type { Draft } from './draft.ts';
import type { Source } from './types.ts';

/** Sources the owner names: `owner` for the first, `owner-2` … for each other text. */
export class OwnerSources {
  readonly #draft: Draft;
  readonly #ids = new Map<string, string>();

  constructor(draft: Draft) {
    this.#draft = draft;
  }

  /** The id of the source with this text and kind, made if it is new. */
  add(title: string, kind: 'handbook' | 'common practice'): string {
    const key = `${kind}\n${title}`;
    const known = this.#ids.get(key);
    if (known !== undefined) return known;
    const id = this.#ids.size === 0 ? 'owner' : `owner-${this.#ids.size + 1}`;
    const value: Source = { id, kind, title, seen: 'read', owner: true };
    this.#draft.sources.set(id, { value, where: () => 'logbook' });
    this.#ids.set(key, id);
    return id;
  }
}
