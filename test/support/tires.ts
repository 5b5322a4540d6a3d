import { type Result, unwrap } from '../../src/problem/index.ts';
import { parseQuantity, type Quantity } from '../../src/quantity/index.ts';
import type { TireSpec } from '../../src/tires/index.ts';

/** `65 psi` as a quantity. */
export const q = (text: string): Quantity => unwrap(parseQuantity(text));
/** The first problem's code, or `ok`. */
export const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);
/** A common trailer tire of a load range. */
export const st = (loadRange: string): TireSpec => ({ size: 'ST225/75R15', family: 'ST', loadRange });
