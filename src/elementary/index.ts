/**
 * What lives here: the elementary functions, the same to the last bit wherever they run. `Math.exp` and its kind may differ in the last
 * bit from one engine to the next (ECMA-262 leaves them to the implementation), and one bit is enough to tell two plans apart. Here is
 * nothing but +, −, ×, ÷ and the bits of a double, which IEEE 754 settles.
 */
export { cosines, exp, expm1, log, log1p, power } from './elementary.ts';
