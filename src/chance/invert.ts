import { exp, log } from '../elementary/index.ts';

/** What a positive random variable does at x: both tails, and x times its density. */
export interface TailsAt {
  readonly below: number;
  readonly above: number;
  readonly slope: number;
}

/**
 * The x > 0 whose lower (or upper) tail is `tail`, by Newton's method on the logarithm of the tail against ln x, where the tails
 * of the distributions here are concave, kept between the nearest x known to be too low and too high.
 *
 * @param side which tail is meant: take the one below ½, for the other has lost its digits
 * @param start a guess; 0 and infinity are mended
 */
export function invertPositive(
  tail: number,
  side: 'below' | 'above',
  start: number,
  at: (x: number) => TailsAt,
): number {
  if (tail === 0) return side === 'below' ? 0 : Infinity;
  if (tail === 1) return side === 'below' ? Infinity : 0;
  const goal = log(tail);
  const direction = side === 'below' ? 1 : -1;
  let low = -745;
  let high = 709;
  let y = log(start);
  if (!(y > low && y < high)) y = y <= low ? low + 1 : 0;
  for (let step = 0; step < 200; step++) {
    const tails = at(exp(y));
    const miss = log(tails[side]) - goal;
    const move = (direction * miss * tails[side]) / tails.slope;
    // Convergence is quadratic: after a step of 1e−9 nothing is left to correct.
    if (Math.abs(move) <= 1e-9) return exp(y - move);
    if (direction * miss > 0) high = y;
    else low = y;
    const next = y - move;
    y = next > low && next < high ? next : 0.5 * (low + high);
    if (high - low < 1e-15 * Math.abs(y)) break;
  }
  return exp(y);
}
