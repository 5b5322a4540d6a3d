import { scryptSync } from 'node:crypto';
import { expect, it } from 'vitest';
import { COST_DEFAULT, hashPassword, matchesPassword } from './password.ts';

it('a password is kept by scrypt at no less than the recommended cost, salted, and checked against it', async () => {
  // OWASP Password Storage Cheat Sheet (from memory): scrypt with N = 2^17, r = 8, p = 1.
  expect(COST_DEFAULT).toBeGreaterThanOrEqual(17);
  const kept = await hashPassword('four words in a row', COST_DEFAULT);
  const [name, cost, salt, hash] = kept.split('$') as [string, string, string, string];
  expect([name, cost]).toEqual(['scrypt', '17']);
  const expected = scryptSync('four words in a row', Buffer.from(salt, 'base64url'), 32, {
    N: 131072,
    r: 8,
    p: 1,
    maxmem: 2 ** 28,
  });
  expect(Buffer.from(hash, 'base64url')).toEqual(expected);
  expect(await matchesPassword('four words in a row', kept)).toBe(true);
  expect(await matchesPassword('four words in a rov', kept)).toBe(false);
  expect(await hashPassword('four words in a row', 10)).not.toBe(await hashPassword('four words in a row', 10));
});

it('scrypt is that of RFC 7914, section 12', () => {
  // Third test vector: P = "pleaseletmein", S = "SodiumChloride", N = 16384, r = 8, p = 1.
  const key = scryptSync('pleaseletmein', 'SodiumChloride', 64, { N: 16384, r: 8, p: 1 });
  expect(key.toString('hex')).toMatch(/^7023bdcb3afd7348461c06cd81fd38eb/);
});

it('a letter typed in two ways is one letter', async () => {
  expect(await matchesPassword('cafe\u0301 in the garden', await hashPassword('caf\u00e9 in the garden', 10))).toBe(
    true,
  );
});
