import type { Catalog } from '../catalog/index.ts';
import { type Desk, openDesk } from '../desk/index.ts';
import { stateThrough } from '../logbook/index.ts';
import type { States } from './states.ts';

/** Desks kept open; each holds the sample paths of one rig on one day. */
const DESKS_MAX = 16;

export interface DeskAt {
  readonly desk: Desk;
  /** Says of which logbook and which day the answers are: the same key, the same answers. */
  readonly key: string;
}

/** Desks by rig, logbook and day; asked again about the same, the same desk answers. */
export class Desks {
  readonly #states: States;
  readonly #catalog: Catalog;
  readonly #today: () => string;
  readonly #open = new Map<string, Desk>();

  constructor(states: States, catalog: Catalog, today: () => string) {
    this.#states = states;
    this.#catalog = catalog;
    this.#today = today;
  }

  /** `now` in the past shows things as they stood at the end of that day. */
  async of(rig: string, now = this.#today()): Promise<DeskAt> {
    const { state, cursor } = await this.#states.of(rig);
    const key = `${rig} ${cursor} ${now}`;
    let desk = this.#open.get(key);
    if (!desk) {
      const then = now < this.#today() ? stateThrough(state, now) : state;
      desk = openDesk(then, this.#catalog, { now });
    }
    this.#open.delete(key);
    this.#open.set(key, desk);
    if (this.#open.size > DESKS_MAX) this.#open.delete(this.#open.keys().next().value!);
    return { desk, key };
  }
}
