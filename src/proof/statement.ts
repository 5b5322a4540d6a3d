/**
 * Statements of devices: what is signed, and how. A statement is the body of a `witness` entry: a device names the entries that it
 * holds since its last statement, by id and hash, and signs them together with the hash of that last statement.
 *
 * Signatures are Ed25519 (RFC 8032), hashes SHA-256 (FIPS 180-4), both from noble's audited libraries.
 */

import { ed25519 } from '@noble/curves/ed25519.js';
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js';
import { type Entry, type EntryOf, WITNESSED_MAX, writeEntry } from '../logbook/index.ts';
import type { Problem } from '../problem/index.ts';

export type Statement = EntryOf<'witness'>['body'];

/** Keeps a signature from being taken for one of another program or another form. */
const DOMAIN = 'rigworthy witness 1';
/** Bytes of an entry's hash that a statement keeps: 128 bits against a second entry with the same one. */
const ENTRY_HASH_BYTES = 16;
/** Most other devices that one statement names; a household has a handful. */
const BESIDE_MAX = 100;

/** The public key of a device, 64 hexadecimal digits, from its 32 secret bytes. */
export function publicKeyOf(secret: Uint8Array): string {
  return bytesToHex(ed25519.getPublicKey(secret));
}

/** A key short enough to compare by eye, in groups of four: `3f9a 02c4 …`. 64 bits. */
export function fingerprint(device: string): string {
  return (bytesToHex(sha256(hexToBytes(device)).subarray(0, 8)).match(/.{4}/g) ?? []).join(' ');
}

/** What a statement keeps of an entry: its id, and the hash of its line as every store and export writes it. */
export function held(entry: Entry): string {
  return `${entry.id} ${bytesToHex(sha256(utf8ToBytes(writeEntry(entry))).subarray(0, ENTRY_HASH_BYTES))}`;
}

/** The id of what `held` made. */
export const idOf = (one: string): string => one.slice(0, one.indexOf(' '));

/** The text that is signed: all of the statement but its signature, with the rig and the instant it was written. */
function signedText({ rig, at }: Pick<Entry, 'rig' | 'at'>, statement: Omit<Statement, 'signature'>): Uint8Array {
  const { device, name, number, previous = '', holds, beside, retires = [] } = statement;
  return utf8ToBytes(
    JSON.stringify([DOMAIN, rig, at, device, name, number, previous, holds, besideText(beside), retires]),
  );
}

const besideText = (beside: Statement['beside']): string[] =>
  beside.map((one) => `${one.device} ${one.number} ${one.hash}`);

/** SHA-256 of a statement with its signature: what the device's next statement, and other devices, name it by. */
export function statementHash(entry: EntryOf<'witness'>): string {
  const signed = signedText(entry, entry.body);
  return bytesToHex(sha256.create().update(signed).update(hexToBytes(entry.body.signature)).digest());
}

/** True where the device's own key signed just this. */
export function signatureHolds(entry: EntryOf<'witness'>): boolean {
  const { device, signature } = entry.body;
  try {
    return ed25519.verify(hexToBytes(signature), signedText(entry, entry.body), hexToBytes(device), { zip215: false });
  } catch {
    // A key that is no point of the curve verifies nothing.
    return false;
  }
}

/** Problems of a statement that is handed in: `logbook.statement-signature` where its device did not sign it. Others have none. */
export function statementProblems(entry: Entry): Problem[] {
  if (entry.kind !== 'witness' || signatureHolds(entry)) return [];
  return [
    {
      code: 'logbook.statement-signature',
      what: 'This statement does not bear the signature of its device',
      where: `${entry.kind} of ${entry.on}`,
      expected: 'a statement as the device signed it',
    },
  ];
}

export interface Signer {
  /** 32 secret bytes, which never leave the device. */
  readonly secret: Uint8Array;
  /** What the owner calls the device. */
  readonly name: string;
}

/**
 * The next statements of a device: as many as it takes to name all entries that it has not named yet. None where there is nothing
 * new to name and nothing to retire.
 *
 * @param entries everything the device holds of one rig
 * @param moment the rig, and the instant that the statements bear
 * @param retires keys that end with these statements
 */
export function nextStatements(
  { secret, name }: Signer,
  entries: Iterable<Entry>,
  moment: Pick<Entry, 'rig' | 'at'>,
  retires: readonly string[] = [],
): Statement[] {
  const device = publicKeyOf(secret);
  const all = [...entries];
  const chains = chainsOf(all);
  const own = trunkOf(chains.get(device) ?? []);
  // By id alone: a device never signs a second content of an entry that it has named.
  const named = new Set(own.flatMap((entry) => entry.body.holds.map(idOf)));
  const fresh = all
    .filter((entry) => entry.kind !== 'witness' && !named.has(entry.id))
    .map(held)
    .sort();
  const beside = [...chains]
    .filter(([other]) => other !== device)
    .flatMap(([other, chain]) => {
      const last = chain.findLast(signatureHolds);
      return last ? [{ device: other, number: last.body.number, hash: statementHash(last) }] : [];
    })
    .sort((a, b) => (a.device < b.device ? -1 : 1))
    .slice(0, BESIDE_MAX);
  const statements: Statement[] = [];
  let last = own.at(-1);
  const parts = Math.max(Math.ceil(fresh.length / WITNESSED_MAX), retires.length > 0 ? 1 : 0);
  for (let part = 0; part < parts; part++) {
    const unsigned: Omit<Statement, 'signature'> = {
      device,
      name,
      number: (last?.body.number ?? 0) + 1,
      ...(last === undefined ? {} : { previous: statementHash(last) }),
      holds: fresh.slice(part * WITNESSED_MAX, (part + 1) * WITNESSED_MAX),
      beside,
      ...(part === parts - 1 && retires.length > 0 ? { retires: [...retires] } : {}),
    };
    const statement = { ...unsigned, signature: bytesToHex(ed25519.sign(signedText(moment, unsigned), secret)) };
    statements.push(statement);
    last = { ...moment, body: statement } as EntryOf<'witness'>;
  }
  return statements;
}

/**
 * The chain that ends in the newest statement that the device really signed, oldest first. Anybody who may write can hand in a statement
 * that bears its key; what the device did not sign, and does not lead to what it signed, is none of its own.
 */
function trunkOf(chain: readonly EntryOf<'witness'>[]): EntryOf<'witness'>[] {
  const newest = chain.findLast(signatureHolds);
  if (newest === undefined) return [];
  const byHash = new Map(chain.map((entry) => [statementHash(entry), entry]));
  const trunk = [newest];
  for (let last = newest; last.body.previous !== undefined; ) {
    const before = byHash.get(last.body.previous);
    if (before === undefined || before.body.number >= last.body.number) break;
    trunk.push(before);
    last = before;
  }
  return trunk.reverse();
}

/** The statements of each device, by number; of equal numbers the earlier written one first. */
export function chainsOf(entries: Iterable<Entry>): Map<string, EntryOf<'witness'>[]> {
  const chains = new Map<string, EntryOf<'witness'>[]>();
  for (const entry of entries) {
    if (entry.kind !== 'witness') continue;
    const chain = chains.get(entry.body.device);
    if (chain) chain.push(entry);
    else chains.set(entry.body.device, [entry]);
  }
  for (const chain of chains.values()) chain.sort((a, b) => a.body.number - b.body.number || (a.id < b.id ? -1 : 1));
  return chains;
}
