import type { Model } from './model.ts';

/** A set of prices: what each job pays to each of its set-ups on each slot, and what a minute costs on each slot. */
export interface Prices {
  /** `use[u * nodes + t]` ≥ 0. */
  readonly use: Float64Array;
  /** `minute[t]` ≥ 0. */
  readonly minute: Float64Array;
  /** What group `g` pays towards the day, `day[g * nodes + t]` ≥ 0: only where groups are solved as a whole. */
  readonly day: Float64Array;
}

/** Prices as the search tree keeps them: half the memory, and any prices give a true bound. */
export interface PricesKept {
  readonly use: Float32Array | Float64Array;
  readonly minute: Float32Array | Float64Array;
  readonly day: Float32Array | Float64Array;
}

/** Prices of nothing. */
export function freePrices(model: Model): Prices {
  return {
    use: new Float64Array(model.useJob.length * model.nodes),
    minute: new Float64Array(model.nodes),
    day: new Float64Array(model.groups * model.nodes),
  };
}

/** Write one set of prices over another. */
export function copyPrices(to: Prices, from: PricesKept): void {
  to.use.set(from.use);
  to.minute.set(from.minute);
  to.day.set(from.day);
}

/** Prices as they stand, to be kept. */
export function keepPrices(from: Prices): PricesKept {
  return {
    use: Float32Array.from(from.use),
    minute: Float32Array.from(from.minute),
    day: Float32Array.from(from.day),
  };
}

/** Minutes by which each slot is over its hours (below 0: short of them) with these paths and set-ups; a closed day has none. */
export function minutesOver(
  model: Model,
  over: Float64Array,
  visits: Int32Array,
  setUp: Int32Array,
  days: number,
): void {
  const { slots, jobs, groups, jobMinutes, groupMinutes, capacity } = model;
  for (let t = 1; t <= slots; t++) over[t] = (days >>> t) & 1 ? -(capacity[t] as number) : 0;
  for (let j = 0; j < jobs; j++) addAt(over, visits[j] as number, jobMinutes[j] as number);
  for (let g = 0; g < groups; g++) addAt(over, setUp[g] as number, groupMinutes[g] as number);
}

/** Add `amount` at each of the slots in `bits`. */
export function addAt(sums: Float64Array, bits: number, amount: number): void {
  for (let rest = bits; rest !== 0; rest &= rest - 1) {
    const t = 31 - Math.clz32(rest & -rest);
    sums[t] = (sums[t] as number) + amount;
  }
}

/** Move prices by a step, no lower than 0, and let the direction fade to `left` of it; the squared length of what remains. */
export function movePrices(prices: Float64Array, direction: Float64Array, step: number, left: number): number {
  let norm = 0;
  for (let k = 0; k < prices.length; k++) {
    const turned = direction[k] as number;
    if (turned === 0) continue;
    const price = (prices[k] as number) + step * turned;
    prices[k] = Math.max(price, 0);
    const remains = left * (price > 0 ? turned : Math.max(turned, 0));
    direction[k] = remains;
    norm += remains * remains;
  }
  return norm;
}
