/**
 * What the statements of all devices prove about a logbook. It finds entries that were rewritten, dropped, or put in behind the
 * backs of the devices; it cannot find an untruth that was written on the day.
 */

import { dayNumber } from '../dates/index.ts';
import type { Entry, EntryOf } from '../logbook/index.ts';
import { chainsOf, held, idOf, signatureHolds, statementHash } from './statement.ts';

/** The newest statement of a device, as another device, a printed sheet or a buyer knows it. */
export interface Head {
  /** The key of the device, or the beginning of it. */
  readonly device: string;
  readonly number: number;
  /** SHA-256 of the statement, or the beginning of it. */
  readonly hash: string;
}

/** Digits of key and hash in a head's code: 64 bits each. */
const CODE_DIGITS = 16;

/** A head short enough to print and to type: `3f9a02c4d1e0aa12-7-a1b2c3d4e5f60718`. */
export function headCode({ device, number, hash }: Head): string {
  return `${device.slice(0, CODE_DIGITS)}-${number}-${hash.slice(0, CODE_DIGITS)}`;
}

/** The head of a code, or undefined where it is none. */
export function headOf(code: string): Head | undefined {
  const [, device, number, hash] =
    /^([0-9a-f]{16})-([1-9]\d{0,5})-([0-9a-f]{16})$/.exec(code.trim().toLowerCase()) ?? [];
  return device && number && hash ? { device, number: Number(number), hash } : undefined;
}

/** `at` names an entry, `device` whose word it contradicts. */
export interface Finding {
  readonly code:
    | 'rewritten' // an entry is not what a device signed
    | 'missing' // an entry that a device held is gone
    | 'signature' // a statement was not signed by its device, or was changed
    | 'gap' // statements of a device are missing between two others
    | 'cut-off' // a device is known to have said more than is here
    | 'after-end'; // a statement made with a key after that key was retired or lost
  readonly device: string;
  readonly entry?: string;
  readonly number?: number;
}

/** A device made two different statements with one number: two programs signed at once, or its key or its state was copied. */
export interface Fork {
  readonly device: string;
  readonly number: number;
}

export interface Witnessed {
  /** How many devices signed it. */
  readonly devices: number;
  /** The instant of the first statement that names it. */
  readonly first: string;
}

export interface Verification {
  /** Nothing contradicts a signature. It says nothing of entries that nobody signed. */
  readonly whole: boolean;
  readonly findings: readonly Finding[];
  readonly forks: readonly Fork[];
  readonly devices: readonly {
    readonly device: string;
    readonly name: string;
    readonly statements: number;
    readonly first: string;
    readonly last: string;
    readonly head: Head;
    /** Its key was retired or lost. */
    readonly ended: boolean;
  }[];
  /** By entry id. */
  readonly witnessed: ReadonlyMap<string, Witnessed>;
  /** Entries, other than statements, that no valid statement names. */
  readonly unwitnessed: readonly string[];
  /**
   * Entries that a device came to hold more than a week after the instant they bear, though it had signed in between: another device was
   * long away, or a date was made up.
   */
  readonly late: readonly { readonly entry: string; readonly at: string; readonly first: string }[];
}

/** A device off the network for a trip is no reason to ask. Our own choice. */
const LATE_DAYS = 7;
const dayOf = (instant: string): number => dayNumber(instant.slice(0, 10));

/**
 * Where a device's word ends: the number of its last statement that counts. Its own word ends where it says so. Another device ends it
 * where that device knew it to be; one that names no statement of it that is here ends nothing of what was signed before: anybody who
 * may write can bring a key, and take nothing back with it.
 */
function endsOf(valid: ReadonlyMap<string, readonly EntryOf<'witness'>[]>): Map<string, number> {
  const ends = new Map<string, number>();
  for (const { at, body } of [...valid.values()].flat())
    for (const retired of body.retires ?? []) {
      const chain = valid.get(retired) ?? [];
      const named = body.beside.find((one) => one.device === retired);
      const known = chain.find((entry) => statementHash(entry) === named?.hash)?.body.number;
      const before = chain.findLast((entry) => entry.at <= at)?.body.number ?? 0;
      const end = retired === body.device ? body.number : Math.max(known ?? 0, before);
      ends.set(retired, Math.max(ends.get(retired) ?? 0, end));
    }
  return ends;
}

/**
 * Entries that a device came to hold more than a week after the instant they bear, though it had signed what it held in between. A device
 * that is new to the logbook names old entries, and proves nothing by it.
 */
function lateOf(
  all: readonly Entry[],
  valid: ReadonlyMap<string, readonly EntryOf<'witness'>[]>,
): Verification['late'] {
  const written = new Map(all.map((entry) => [entry.id, entry.at]));
  const late = new Map<string, { entry: string; at: string; first: string }>();
  for (const chain of valid.values()) {
    for (const { at: first, body } of chain)
      for (const entry of body.holds.map(idOf)) {
        const at = written.get(entry);
        if (at === undefined || dayOf(first) - dayOf(at) <= LATE_DAYS) continue;
        const spoke = chain.some((other) => other.at > at && other.at < first);
        const known = late.get(entry);
        if (spoke && (known === undefined || first > known.first)) late.set(entry, { entry, at, first });
      }
  }
  return [...late.values()];
}

/**
 * Holds every entry against every statement.
 *
 * @param entries everything there is of one rig, struck entries too
 * @param without keys, or the beginnings of keys, of devices whose word does not count
 * @param heads newest statements known from elsewhere: without any, statements cut off the end cannot be missed
 */
export function verifyLogbook(
  entries: Iterable<Entry>,
  heads: readonly Head[] = [],
  without: readonly string[] = [],
): Verification {
  const all = [...entries].filter(
    (entry) => entry.kind !== 'witness' || !without.some((key) => entry.body.device.startsWith(key)),
  );
  const now = new Map(all.filter((entry) => entry.kind !== 'witness').map((entry) => [entry.id, held(entry)]));
  const findings: Finding[] = [];
  const forks: Fork[] = [];
  const devices: Verification['devices'][number][] = [];
  const witnessed = new Map<string, { devices: Set<string>; first: string }>();
  const chains = chainsOf(all);
  const valid = new Map([...chains].map(([device, chain]) => [device, chain.filter((entry) => signatureHolds(entry))]));
  const ends = endsOf(valid);

  for (const [device, chain] of chains) {
    const good = valid.get(device)!;
    const signed = new Set(good);
    for (const entry of chain)
      if (!signed.has(entry)) findings.push({ code: 'signature', device, entry: entry.id, number: entry.body.number });
    if (good.length === 0) continue;
    findings.push(...gapsOf(device, good));
    forks.push(...forksOf(device, good));
    const end = ends.get(device) ?? Infinity;
    for (const { id, at, body } of good) {
      if (body.number > end) {
        findings.push({ code: 'after-end', device, entry: id, number: body.number });
        continue;
      }
      for (const one of body.holds) {
        const entry = idOf(one);
        const here = now.get(entry);
        if (here === undefined) findings.push({ code: 'missing', device, entry });
        else if (here !== one) findings.push({ code: 'rewritten', device, entry });
        else {
          const known = witnessed.get(entry) ?? { devices: new Set(), first: at };
          known.devices.add(device);
          if (at < known.first) known.first = at;
          witnessed.set(entry, known);
        }
      }
    }
    const last = good.at(-1)!;
    devices.push({
      device,
      name: last.body.name,
      statements: good.length,
      first: good[0]!.at,
      last: last.at,
      head: { device, number: last.body.number, hash: statementHash(last) },
      ended: end !== Infinity,
    });
  }
  const known = [...heads, ...[...valid.values()].flatMap((chain) => chain.flatMap(({ body }) => body.beside))];
  findings.push(...cutOff(known, valid));
  return {
    whole: findings.length === 0,
    findings: distinct(findings),
    forks,
    devices,
    witnessed: new Map([...witnessed].map(([id, { devices: by, first }]) => [id, { devices: by.size, first }])),
    late: lateOf(all, valid),
    unwitnessed: [...now.keys()].filter((id) => !witnessed.has(id)).sort(),
  };
}

/** Statements that do not follow one that is here. */
function gapsOf(device: string, chain: readonly EntryOf<'witness'>[]): Finding[] {
  const hashes = new Set(chain.map((entry) => `${entry.body.number} ${statementHash(entry)}`));
  return chain
    .filter(({ body: { number, previous } }) =>
      number === 1 ? previous !== undefined : !hashes.has(`${number - 1} ${previous}`),
    )
    .map(({ id, body }) => ({ code: 'gap', device, entry: id, number: body.number }));
}

/** Numbers under which a device said more than one thing. */
function forksOf(device: string, chain: readonly EntryOf<'witness'>[]): Fork[] {
  const twice = chain.filter((entry, at) => chain[at - 1]?.body.number === entry.body.number);
  return [...new Set(twice.map(({ body }) => body.number))].map((number) => ({ device, number }));
}

/** Statements that somebody knows of and that are not here. */
function cutOff(known: readonly Head[], chains: ReadonlyMap<string, readonly EntryOf<'witness'>[]>): Finding[] {
  const here = [...chains].map(([device, chain]) => ({ device, hashes: chain.map(statementHash) }));
  const isHere = ({ device, hash }: Head): boolean =>
    here.some((one) => one.device.startsWith(device) && one.hashes.some((own) => own.startsWith(hash)));
  return known.filter((head) => !isHere(head)).map(({ device, number }) => ({ code: 'cut-off', device, number }));
}

function distinct(findings: readonly Finding[]): Finding[] {
  return [
    ...new Map(findings.map((one) => [JSON.stringify([one.code, one.device, one.entry, one.number]), one])).values(),
  ];
}
