import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';
import { fail, ok, type Result } from '../../problem/index.ts';

/** log2 of scrypt's N. 2^17 blocks of 8 · 128 bytes take 128 MiB: OWASP Password Storage Cheat Sheet, scrypt, first row. */
export const COST_DEFAULT = 17;
const BLOCK = 8;
const PARALLEL = 1;
const KEY_BYTES = 32;

/** Kept instead of a hash where no password is right until a new one is given. */
export const LOCKED = 'locked';

/** Shortest password: NIST SP 800-63B asks for 8 at least, 15 without a second factor in revision 4; no rules of composition. */
const LENGTH_MIN = 12;
const LENGTH_MAX = 256;
/** The beginnings of what people who must have twelve characters type. */
const COMMON = [
  '123456789',
  'password',
  'qwertyuiop',
  'letmein',
  'abcdefgh',
  '111111111',
  'rigworthy',
  'traveltrailer',
];

/** Problems: `accounts.password-weak`. */
export function checkPassword(password: string, name: string): Result<string> {
  const normal = password.normalize('NFKC');
  const length = [...normal].length;
  const low = normal.toLowerCase();
  const guessed = COMMON.some((common) => low.startsWith(common)) || low.includes(name) || new Set(low).size < 5;
  if (length >= LENGTH_MIN && length <= LENGTH_MAX && !guessed) return ok(normal);
  return fail({
    code: 'accounts.password-weak',
    what: guessed ? 'This password is easily guessed' : `The password has ${length} characters`,
    expected: `${LENGTH_MIN} to ${LENGTH_MAX} characters that are not a well-known word, your name or a row of keys`,
    next: 'Four or five words in a row make a good one.',
  });
}

/** One at a time: a hash takes much memory, and a crowd at the door must not take all of it. */
let queue: Promise<unknown> = Promise.resolve();

function derive(password: string, salt: Buffer, cost: number): Promise<Buffer> {
  const work = (): Promise<Buffer> =>
    new Promise((resolve, reject) => {
      const options = { N: 2 ** cost, r: BLOCK, p: PARALLEL, maxmem: 2 ** cost * BLOCK * 128 + 1024 * 1024 };
      scrypt(password.normalize('NFKC'), salt, KEY_BYTES, options, (error, key) =>
        error ? reject(error) : resolve(key),
      );
    });
  const result = queue.then(work);
  queue = result.catch(() => undefined);
  return result;
}

/** `scrypt$COST$SALT$HASH`, so that the cost can rise later. */
export async function hashPassword(password: string, cost: number): Promise<string> {
  const salt = randomBytes(16);
  const key = await derive(password, salt, cost);
  return ['scrypt', cost, salt.toString('base64url'), key.toString('base64url')].join('$');
}

export async function matchesPassword(password: string, kept: string): Promise<boolean> {
  const [, cost, salt, hash] = kept.split('$') as [string, string, string, string];
  const expected = Buffer.from(hash, 'base64url');
  const key = await derive(password, Buffer.from(salt, 'base64url'), Number(cost));
  return timingSafeEqual(key, expected);
}
