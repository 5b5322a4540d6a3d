/** Exact fractions of whole numbers: what a definition such as "1 in = 0.0254 m" is, before any rounding. */

/** numerator / denominator, in lowest terms, the denominator positive. */
export interface Rational {
  readonly num: bigint;
  readonly den: bigint;
}

function gcd(a: bigint, b: bigint): bigint {
  let x = a < 0n ? -a : a;
  let y = b < 0n ? -b : b;
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
}

/** The fraction num/den in lowest terms; throws on a zero denominator. */
export function rational(num: bigint, den: bigint): Rational {
  if (den === 0n) throw new Error('invariant: a fraction over zero');
  const sign = den < 0n ? -1n : 1n;
  const divisor = gcd(num, den) || 1n;
  return { num: (sign * num) / divisor, den: (sign * den) / divisor };
}

/** `0.45359237` as 45359237/100000000. */
function decimal(text: string): Rational {
  const match = /^(-?\d+)(?:\.(\d+))?$/.exec(text);
  if (match === null) throw new Error(`invariant: not a decimal: ${text}`);
  const fraction = match[2] ?? '';
  return rational(BigInt(match[1] + fraction), 10n ** BigInt(fraction.length));
}

export function times(a: Rational, b: Rational): Rational {
  return rational(a.num * b.num, a.den * b.den);
}

export function over(a: Rational, b: Rational): Rational {
  return rational(a.num * b.den, a.den * b.num);
}

export function minus(a: Rational, b: Rational): Rational {
  return rational(a.num * b.den - b.num * a.den, a.den * b.den);
}

/** Reads a chain of decimals joined by `*` and `/`, left to right: `0.45359237 * 9.80665 / 0.0254 / 0.0254`. */
export function exact(chain: string): Rational {
  const tokens = chain.split(' ');
  let result = decimal(tokens[0] ?? '');
  for (let i = 1; i < tokens.length; i += 2) {
    const next = decimal(tokens[i + 1] ?? '');
    result = tokens[i] === '*' ? times(result, next) : over(result, next);
  }
  return result;
}
