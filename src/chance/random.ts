/** A small stream of random numbers. The same seed gives the same stream on every machine. */
export interface Random {
  /** The next 32 random bits, as an integer from 0 to 2^32 − 1. */
  bits(): number;
  /** The next number strictly between 0 and 1, on a grid of 2^−32. */
  uniform(): number;
  /** The next integer from 0 to `count` − 1; its bias is below `count` / 2^32. */
  below(count: number): number;
}

/**
 * A seeded generator: xoshiro128** 1.1 (D. Blackman, S. Vigna, "Scrambled linear pseudorandom number generators",
 * ACM Trans. Math. Softw. 47, 2021), its state filled from the seed.
 *
 * @param seed any integer; only its low 32 bits count. For a named stream: `random(seedFrom('outlook/trips'))`.
 */
export function random(seed: number): Random {
  const word = seedWords(seed);
  return randomFromState(word(), word(), word(), word());
}

/** xoshiro128** from its four state words (not all zero); for checks against published output. */
export function randomFromState(word0: number, word1: number, word2: number, word3: number): Random {
  let s0 = word0 | 0;
  let s1 = word1 | 0;
  let s2 = word2 | 0;
  let s3 = word3 | 0;
  if ((s0 | s1 | s2 | s3) === 0) throw new RangeError('The state of the generator must not be all zero.');
  const bits = (): number => {
    const product = Math.imul(s1, 5);
    const result = Math.imul((product << 7) | (product >>> 25), 9) >>> 0;
    const shifted = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= shifted;
    s3 = (s3 << 11) | (s3 >>> 21);
    return result;
  };
  return {
    bits,
    uniform: () => (bits() + 0.5) * 2 ** -32,
    below: (count) => Math.floor(bits() * 2 ** -32 * count),
  };
}

/**
 * A 32-bit seed from a name, so that each use has a stream of its own: `seedFrom('outlook/trip/3')`.
 *
 * FNV-1a (G. Fowler, L. C. Noll, K.-P. Vo, draft-eastlake-fnv) over the text's UTF-16 units, low byte first, the high byte only when it is not zero; for ASCII that is
 * plain FNV-1a.
 *
 * @example seedFrom('foobar') === 0xbf9cf968
 */
export function seedFrom(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    hash = Math.imul(hash ^ (unit & 0xff), 0x01000193);
    if (unit > 0xff) hash = Math.imul(hash ^ (unit >>> 8), 0x01000193);
  }
  return hash >>> 0;
}

/** A seed for part `index` of what `seed` seeds: streams of different parts do not resemble each other. */
export function seedPart(seed: number, index: number): number {
  return mix(mix(seed | 0) ^ Math.imul(index + 1, 0x9e3779b9)) >>> 0;
}

/** The words that fill a state: a Weyl sequence through a bijective 32-bit mixer. */
function seedWords(seed: number): () => number {
  let counter = seed | 0;
  return () => {
    counter = (counter + 0x9e3779b9) | 0;
    return mix(counter);
  };
}

/** The finaliser of MurmurHash3 (A. Appleby, public domain): every input bit changes half of the output bits. */
function mix(word: number): number {
  let h = word;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
