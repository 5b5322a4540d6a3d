/** A small seeded generator (32-bit xorshift, Marsaglia 2003): numbers in [0, 1). The same seed gives the same numbers everywhere. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = (Math.imul(seed | 0, 0x9e3779b1) ^ 0x85ebca6b) | 0 || 1;
  }

  next(): number {
    let x = this.#state;
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    this.#state = x;
    return (x >>> 0) / 4294967296;
  }

  /** A whole number from 0 to `below - 1`. */
  below(below: number): number {
    return Math.floor(this.next() * below);
  }

  /** Shuffle the first `count` members in place. */
  shuffle(list: Int32Array, count: number): void {
    for (let k = count - 1; k > 0; k--) {
      const other = this.below(k + 1);
      const held = list[k] as number;
      list[k] = list[other] as number;
      list[other] = held;
    }
  }
}
