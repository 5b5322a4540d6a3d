import { hkdfSync } from 'node:crypto';
import { bech32 } from '@scure/base';
import { generateMnemonic, mnemonicToSeed, validateMnemonic } from '@scure/bip39';
import { wordlist } from '@scure/bip39/wordlists/english.js';
import { Encrypter, identityToRecipient } from 'age-encryption';
import { fail, ok, type Result } from '../../problem/index.ts';

/** Bits by chance in a phrase: twelve words of 2,048, of which four bits are a check. */
const PHRASE_BITS = 128;
/** Ties the key to this use of the phrase. Never changed: old copies could not be read any more. */
const PURPOSE = 'rigworthy recovery phrase v1';

/** Twelve words (BIP-39, English) that are the only way to what is encrypted to their recipient. Not kept anywhere. */
export function makePhrase(): string {
  return generateMnemonic(wordlist, PHRASE_BITS);
}

/**
 * The age identity (`AGE-SECRET-KEY-1…`) of a recovery phrase, or the identity itself where that is given.
 * The phrase becomes a seed as BIP-39 says, and by HKDF-SHA-256 an X25519 key.
 *
 * Problems: `store.phrase` (a word is wrong or missing).
 */
export async function identityOf(secret: string): Promise<Result<string>> {
  const text = secret.trim();
  if (/^AGE-SECRET-KEY-(PQ-)?1[A-Z0-9]+$/i.test(text)) {
    const identity = text.toUpperCase();
    return identityToRecipient(identity).then(
      () => ok(identity),
      () => wrongPhrase('This age identity has a letter wrong or missing'),
    );
  }
  const phrase = text.normalize('NFKD').toLowerCase().split(/\s+/).join(' ');
  if (!validateMnemonic(phrase, wordlist))
    return wrongPhrase('A word of the recovery phrase is wrong, missing or in another place');
  const key = hkdfSync('sha256', await mnemonicToSeed(phrase), Buffer.alloc(0), PURPOSE, 32);
  return ok(bech32.encodeFromBytes('age-secret-key-', new Uint8Array(key)).toUpperCase());
}

function wrongPhrase(what: string): Result<never> {
  return fail({
    code: 'store.phrase',
    what,
    expected: 'the twelve words as they were shown, or an age identity, AGE-SECRET-KEY-1…',
  });
}

export function recipientOf(identity: string): Promise<string> {
  return identityToRecipient(identity);
}

/** Problems: `store.recipient`. */
export function readRecipient(text: string): Result<string> {
  const recipient = text.trim();
  try {
    new Encrypter().addRecipient(recipient);
    return ok(recipient);
  } catch {
    return fail({
      code: 'store.recipient',
      what: 'This is not a public recipient',
      where: recipient.slice(0, 20),
      expected: 'age1…, as `rigworthy recovery new` or an age program makes it',
    });
  }
}
