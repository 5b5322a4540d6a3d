/**
 * start + Σ aᵢ bᵢ (step by step through both arrays), as if summed in twice the working precision and rounded once.
 *
 * Dot2 of T. Ogita, S. M. Rump, S. Oishi, "Accurate sum and dot product", SIAM J. Sci. Comput. 26, 1955–1988 (2005), with Dekker's
 * exact product. Magnitudes must stay below about 1e300.
 */
export function exactDot(start: number, a: ArrayLike<number>, b: ArrayLike<number>, sign: 1 | -1 = 1): number {
  let sum = start;
  let lost = 0;
  for (let i = 0; i < a.length; i++) {
    const x = sign * a[i]!;
    const y = b[i]!;
    const product = x * y;
    const xHigh = high(x);
    const xLow = x - xHigh;
    const yHigh = high(y);
    const yLow = y - yHigh;
    const productLost = xLow * yLow - (product - xHigh * yHigh - xLow * yHigh - xHigh * yLow);
    const next = sum + product;
    const shift = next - sum;
    lost += sum - (next - shift) + (product - shift) + productLost;
    sum = next;
  }
  return sum + lost;
}

/** The upper half of a double's digits (Veltkamp's splitting). */
function high(x: number): number {
  const scaled = 134217729 * x;
  return scaled - (scaled - x);
}
