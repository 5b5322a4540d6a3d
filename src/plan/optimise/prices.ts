import type { Model } from './model.ts';

/** A set of prices: what each job pays to each of its set-ups on each slot, and what a minute costs on each slot. */
export interface Prices {
  /** `use[u * nodes + t]` ≥ 0. */
  readonly use: Float64Array;
  /** `minute[t]` ≥ 0. */
  readonly minute: Float64Array;
}

/** Prices as the search tree keeps them: half the memory, and any prices give a true bound. */
export interface PricesKept {
  readonly use: Float32Array | Float64Array;
  readonly minute: Float32Array | Float64Array;
}

/** Prices of nothing. */
export function freePrices(model: Model): Prices {
  return { use: new Float64Array(model.useJob.length * model.nodes), minute: new Float64Array(model.nodes) };
}

/** Write one set of prices over another. */
export function copyPrices(to: Prices, from: Prices): void {
  to.use.set(from.use);
  to.minute.set(from.minute);
}
