import { createHash, randomBytes } from 'node:crypto';

/**
 * A secret handed out once: `OWNER.SECRET`, where the owner is the account or rig it belongs to, so that it is found by its
 * key. Only its hash is kept: who reads the database cannot use it. 256 bits of chance need no slow hash.
 */
export function newToken(owner: string): { token: string; hash: string } {
  const secret = randomBytes(32).toString('base64url');
  return { token: `${owner}.${secret}`, hash: tokenHash(secret) };
}

/** The owner and the hash of a token, or undefined where it is none. */
export function readToken(token: string): { owner: string; hash: string } | undefined {
  const match = /^([a-z0-9-]{1,80})\.([\w-]{43})$/.exec(token);
  return match ? { owner: match[1]!, hash: tokenHash(match[2]!) } : undefined;
}

function tokenHash(secret: string): string {
  return createHash('sha256').update(secret).digest('hex');
}

/** A short public name for something that has a secret. */
export function newShortId(): string {
  return randomBytes(6).toString('hex');
}
