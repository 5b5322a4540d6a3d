import type { Decided } from './decided.ts';
import type { Model } from './model.ts';
import type { Rhythms } from './rhythms.ts';

/**
 * How much the bound rises at the present prices when one more thing is decided: a day or a set-up forced open or kept closed.
 * A rise past the cost of a plan already had decides the opposite for good (reduced-cost fixing).
 */
export class Gains {
  /** By slot; by `group * nodes + slot`. */
  readonly dayOpen: Float64Array;
  readonly dayClosed: Float64Array;
  readonly setOpen: Float64Array;
  readonly setClosed: Float64Array;
  readonly #model: Model;

  constructor(model: Model) {
    this.#model = model;
    this.dayOpen = new Float64Array(model.nodes);
    this.dayClosed = new Float64Array(model.nodes);
    this.setOpen = new Float64Array(model.groups * model.nodes);
    this.setClosed = new Float64Array(model.groups * model.nodes);
  }

  /** Work out all gains over what `rhythms.evaluate` last found. */
  measure(rhythms: Rhythms, decided: Decided): void {
    const { slots, nodes } = this.#model;
    for (const rhythm of rhythms.rhythms) rhythm.measureGains(this.setClosed, this.setOpen, rhythm.group * nodes);
    for (let t = 1; t <= slots; t++) {
      const left = (decided.dayOpen >>> t) & 1 ? 0 : rhythms.dayLeft(t);
      this.dayOpen[t] = Math.max(0, left);
      this.dayClosed[t] = Math.max(0, -left);
      for (const { group } of rhythms.rhythms) {
        const at = group * nodes + t;
        this.dayClosed[t] = (this.dayClosed[t] as number) + (this.setClosed[at] as number);
        this.setOpen[at] = (this.setOpen[at] as number) + (this.dayOpen[t] as number);
      }
    }
  }
}
