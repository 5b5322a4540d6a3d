import { normalQuantile, random, seedPart } from '../../src/chance/index.ts';

/** Draws of one simulated owner; the same seed gives the same seasons everywhere. */
export class Dice {
  readonly #stream;

  constructor(seed: number, part: number) {
    this.#stream = random(seedPart(seed, part));
  }

  uniform(from = 0, to = 1): number {
    return from + (to - from) * this.#stream.uniform();
  }

  normal(mean = 0, spread = 1): number {
    return mean + spread * normalQuantile(this.#stream.uniform());
  }

  exponential(mean: number): number {
    return -mean * Math.log(this.#stream.uniform());
  }

  /** Number of events of a Poisson process with this mean. */
  poisson(mean: number): number {
    let n = 0;
    for (let at = this.exponential(1); at < mean; at += this.exponential(1)) n++;
    return n;
  }

  is(chance: number): boolean {
    return this.#stream.uniform() < chance;
  }
}
