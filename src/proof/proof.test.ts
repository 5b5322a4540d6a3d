import { createHash, createPublicKey, verify } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demoEntries } from '../../test/support/demo.ts';
import { idNumber } from '../../test/support/keeping.ts';
import { type Entry, type EntryOf, readEntry, writeEntry } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';
import {
  fingerprint,
  headCode,
  headOf,
  held,
  nextStatements,
  publicKeyOf,
  type Signer,
  statementHash,
  statementProblems,
  verifyLogbook,
} from './index.ts';

const RIG = 'marigold';
const signer = (seed: number, name: string): Signer => ({
  secret: new Uint8Array(createHash('sha256').update(`device ${seed}`).digest()),
  name,
});
const [phone, laptop] = [signer(1, 'Phone'), signer(2, 'Laptop')];
const [PHONE, LAPTOP] = [publicKeyOf(phone.secret), publicKeyOf(laptop.secret)];

let made = 0;
const reading = (on: string, psi: number): Entry =>
  unwrap(
    readEntry(
      {
        id: idNumber(++made),
        rig: RIG,
        kind: 'reading',
        on,
        at: `${on}T10:00:00Z`,
        by: 'Ada',
        v: 1,
        body: { part: 'spare', what: 'pressure', value: `${psi} psi` },
      },
      'here',
    ),
  );

/** The logbook once a device has signed what it holds, on a day. */
function signed(entries: readonly Entry[], by: Signer, on: string, retires: readonly string[] = []): Entry[] {
  const at = `${on}T12:00:00Z`;
  const statements = nextStatements(by, entries, { rig: RIG, at }, retires);
  return [
    ...entries,
    ...statements.map((body) =>
      unwrap(readEntry({ id: idNumber(++made), rig: RIG, kind: 'witness', on, at, by: 'Ada', v: 1, body }, 'here')),
    ),
  ];
}

/** Two devices, three rounds: each signs what the other has signed before. */
function household(): Entry[] {
  let entries: Entry[] = [reading('2026-05-01', 65), reading('2026-05-02', 64)];
  entries = signed(entries, phone, '2026-05-02');
  entries = signed([...entries, reading('2026-05-09', 61)], laptop, '2026-05-09');
  return signed([...entries, reading('2026-05-16', 60)], phone, '2026-05-16');
}

const codes = (entries: Iterable<Entry>, heads: Parameters<typeof verifyLogbook>[1] = []) =>
  [...new Set(verifyLogbook(entries, heads).findings.map((one) => one.code))].sort();
const statements = (entries: readonly Entry[]) =>
  entries.filter((entry): entry is EntryOf<'witness'> => entry.kind === 'witness');
const altered = (entry: Entry, change: (raw: Record<string, object>) => void): Entry => {
  const raw = JSON.parse(writeEntry(entry));
  change(raw);
  return unwrap(readEntry(raw, 'here'));
};

describe('a statement', () => {
  it('is signed so that another program can check it (OpenSSL, through node:crypto)', () => {
    const entry = statements(household())[0]!;
    const { device, name, number, holds, signature } = entry.body;
    const text = JSON.stringify(['rigworthy witness 1', RIG, entry.at, device, name, number, '', holds, [], []]);
    // A raw Ed25519 key in its SubjectPublicKeyInfo: RFC 8410, section 4.
    const der = Buffer.concat([Buffer.from('302a300506032b6570032100', 'hex'), Buffer.from(device, 'hex')]);
    const key = createPublicKey({ key: der, format: 'der', type: 'spki' });
    expect(verify(null, Buffer.from(text), key, Buffer.from(signature, 'hex'))).toBe(true);
    expect(verify(null, Buffer.from(text.replace('"Phone"', '"phone"')), key, Buffer.from(signature, 'hex'))).toBe(
      false,
    );
  });

  it('names an entry by SHA-256 of its line', () => {
    const entry = reading('2026-05-01', 65);
    const sha256 = createHash('sha256').update(writeEntry(entry)).digest('hex');
    expect(held(entry)).toBe(`${entry.id} ${sha256.slice(0, 32)}`);
  });

  it('gives the public key of RFC 8032, section 7.1, test 1', () => {
    const secret = Buffer.from('9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60', 'hex');
    expect(publicKeyOf(new Uint8Array(secret))).toBe(
      'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    );
    expect(fingerprint(PHONE)).toMatch(/^([0-9a-f]{4} ){3}[0-9a-f]{4}$/);
  });

  it('names each entry once, many in several statements, and says nothing where nothing is new', () => {
    const many = Array.from({ length: 1203 }, (_, i) => reading('2026-05-01', 30 + (i % 50)));
    const once = signed(many, phone, '2026-05-02');
    expect(statements(once).map(({ body }) => [body.number, body.holds.length])).toEqual([
      [1, 500],
      [2, 500],
      [3, 203],
    ]);
    expect(verifyLogbook(once)).toMatchObject({ whole: true, unwitnessed: [] });
    expect(signed(once, phone, '2026-05-03')).toHaveLength(once.length);
    // Another device's statements alone are no reason to speak: two devices would never end.
    const both = signed(once, laptop, '2026-05-03');
    expect(signed(both, phone, '2026-05-04')).toHaveLength(both.length);
  });
});

describe('what the statements prove', () => {
  it('is nothing wrong where nothing was done', () => {
    const found = verifyLogbook(household());
    expect(found).toMatchObject({ whole: true, findings: [], unwitnessed: [], late: [] });
    expect([...found.witnessed.values()].map((one) => one.devices)).toEqual([2, 2, 2, 1]);
    expect(found.devices.map(({ name, statements: count, ended }) => [name, count, ended])).toEqual([
      ['Phone', 2, false],
      ['Laptop', 1, false],
    ]);
  });

  it('does not depend on the order of the entries', () => {
    const entries = household();
    const plain = verifyLogbook(entries);
    fc.assert(
      fc.property(fc.shuffledSubarray(entries, { minLength: entries.length }), (order) => {
        const found = verifyLogbook(order);
        expect([found.whole, found.unwitnessed, new Map([...found.witnessed].sort())]).toEqual([
          plain.whole,
          plain.unwitnessed,
          new Map([...plain.witnessed].sort()),
        ]);
      }),
      { seed: 11, numRuns: 50 },
    );
  });

  it('tells an entry written since from one that was signed', () => {
    const later = reading('2026-05-20', 58);
    expect(verifyLogbook([...household(), later])).toMatchObject({ whole: true, unwitnessed: [later.id] });
  });

  it('finds an entry that was put in behind with an old date', () => {
    const back = reading('2026-03-01', 80);
    const entries = signed([...household(), back], phone, '2026-05-23');
    expect(verifyLogbook(entries).late).toEqual([
      { entry: back.id, at: '2026-03-01T10:00:00Z', first: '2026-05-23T12:00:00Z' },
    ]);
  });

  it('finds whatever is changed of an entry that somebody signed', () => {
    const entries = household();
    for (const [at, entry] of entries.entries()) {
      if (entry.kind === 'witness') continue;
      const changed = [
        altered(entry, (raw) => Object.assign(raw, { on: '2026-04-30' })),
        altered(entry, (raw) => Object.assign(raw, { by: 'Eve' })),
        altered(entry, (raw) => Object.assign(raw, { at: '2026-05-01T10:00:01Z' })),
        altered(entry, (raw) => Object.assign(raw.body!, { value: { value: 66, unit: 'psi' } })),
      ];
      for (const one of changed) expect(codes(entries.with(at, one))).toEqual(['rewritten']);
      expect(codes(entries.toSpliced(at, 1))).toEqual(['missing']);
    }
  });

  it('goes on saying so once the device has signed again', () => {
    const entries = household().map((entry) =>
      entry.kind === 'reading' ? altered(entry, (raw) => Object.assign(raw, { by: 'Eve' })) : entry,
    );
    expect(codes(signed([...entries, reading('2026-05-30', 60)], phone, '2026-05-30'))).toEqual(['rewritten']);
  });

  it('finds whatever is changed of a statement', () => {
    const entries = household();
    for (const [at, entry] of entries.entries()) {
      if (entry.kind !== 'witness') continue;
      for (const change of [
        { name: 'Tablet' },
        { number: entry.body.number + 1 },
        { holds: entry.body.holds.slice(1) },
        { device: LAPTOP === entry.body.device ? PHONE : LAPTOP },
        { previous: '0'.repeat(64) },
        { retires: [PHONE] },
        { beside: [{ device: PHONE, number: 9, hash: '0'.repeat(64) }] },
        { signature: '0'.repeat(128) },
      ])
        expect(
          codes(
            entries.with(
              at,
              altered(entry, (raw) => Object.assign(raw.body!, change)),
            ),
          ),
          JSON.stringify(change),
        ).toContain('signature');
      expect(
        codes(
          entries.with(
            at,
            altered(entry, (raw) => Object.assign(raw, { at: '2026-01-01T00:00:00Z' })),
          ),
        ),
      ).toContain('signature');
    }
  });

  it('misses a statement taken out, the last one of all only by a head known elsewhere', () => {
    const entries = household();
    const [first, second, third] = statements(entries);
    expect(codes(entries.filter((entry) => entry !== first))).toEqual(['cut-off', 'gap']);
    expect(codes(entries.filter((entry) => entry !== second))).toEqual(['cut-off']);
    const cut = entries.filter((entry) => entry !== third);
    expect(codes(cut)).toEqual([]);
    expect(verifyLogbook(cut).unwitnessed).toHaveLength(1);
    const head = verifyLogbook(entries).devices.find((one) => one.device === PHONE)!.head;
    expect(head).toEqual({ device: PHONE, number: 2, hash: statementHash(third!) });
    expect(codes(cut, [head])).toEqual(['cut-off']);
    expect(codes(cut, [headOf(` ${headCode(head).toUpperCase()} `)!])).toEqual(['cut-off']);
    expect(codes(entries, [headOf(headCode(head))!])).toEqual([]);
    expect(['', 'abc-1-def', `${headCode(head)}0`, headCode(head).replace('-2-', '-0-')].map(headOf)).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    expect(codes(entries, [head])).toEqual([]);
  });

  it('sees a device that speaks with two tongues: a copied key, or a state put back', () => {
    const entries = household();
    const before = entries.filter((entry) => !(entry.kind === 'witness' && entry.body.number === 2));
    const other = signed([...before, reading('2026-05-17', 70)], phone, '2026-05-17');
    const found = verifyLogbook([...new Set([...entries, ...other])]);
    expect(found).toMatchObject({ whole: true, forks: [{ device: PHONE, number: 2 }] });
    expect(verifyLogbook(entries).forks).toEqual([]);
  });

  it('goes on signing whatever others hand in with its key', () => {
    const entries = household();
    const fresh = reading('2026-05-30', 60);
    const last = statements(entries).at(-1)!;
    const forged = altered(last, (raw) =>
      Object.assign(raw.body!, {
        number: 1_000_000,
        previous: '6'.repeat(64),
        holds: [`${fresh.id} ${'0'.repeat(32)}`],
        signature: '0'.repeat(128),
      }),
    );
    const other = { ...forged, id: idNumber(++made) } as Entry;
    expect(statementProblems(other)).toMatchObject([{ code: 'logbook.statement-signature' }]);
    expect(statementProblems(last)).toEqual([]);
    const next = signed([...entries, other, fresh], phone, '2026-05-31')
      .filter((entry) => entry.kind === 'witness')
      .at(-1)!;
    expect(next.body).toMatchObject({ device: PHONE, number: 3, holds: [held(fresh)] });
  });

  it('takes nothing back from what was signed where a strange key ends another', () => {
    const entries = household();
    const thief = signer(3, 'Stranger');
    const ended = signed(entries.filter((entry) => entry.kind !== 'witness').slice(0, 1), thief, '2026-06-01', [
      PHONE,
    ]).filter((entry) => entry.kind === 'witness');
    const found = verifyLogbook([...entries, ...ended]);
    expect(found).toMatchObject({ whole: true, unwitnessed: [] });
    expect(found.devices.find((one) => one.device === PHONE)!.ended).toBe(true);
  });

  it('leaves out the word of a key that is not trusted', () => {
    const liar = signer(4, 'Liar');
    const invented = signed([...household(), reading('2026-05-20', 1)], liar, '2026-05-21');
    const without = invented.filter((entry) => !(entry.kind === 'reading' && entry.on === '2026-05-20'));
    expect(codes(without)).toEqual(['missing']);
    expect(verifyLogbook(without, [], [publicKeyOf(liar.secret).slice(0, 16)])).toMatchObject({ whole: true });
  });

  it('finds an old date by a device that had spoken meanwhile, whoever dates a statement back', () => {
    const stranger = signer(5, 'Stranger');
    const back = reading('2026-05-03', 80);
    const dated = signed([back], stranger, '2026-05-03').filter((entry) => entry.kind === 'witness');
    const entries = signed([...household(), back, ...dated], phone, '2026-05-23');
    expect(verifyLogbook(entries).late).toEqual([
      { entry: back.id, at: '2026-05-03T10:00:00Z', first: '2026-05-23T12:00:00Z' },
    ]);
  });

  it('counts nothing that a retired or lost key says later', () => {
    const entries = household();
    const retired = signed(entries, phone, '2026-06-01', [LAPTOP]);
    const found = verifyLogbook(retired);
    expect(found).toMatchObject({ whole: true });
    expect(found.devices.find((one) => one.device === LAPTOP)!.ended).toBe(true);
    const thief = reading('2026-06-02', 80);
    const later = signed([...retired, thief], laptop, '2026-06-02');
    expect(codes(later)).toEqual(['after-end']);
    expect(verifyLogbook(later).unwitnessed).toEqual([thief.id]);
  });

  it('finds every one of 60 random edits of what a device elsewhere has the head of', () => {
    const entries = signed(signed(demoEntries(), phone, '2026-05-27'), laptop, '2026-05-28');
    const heads = verifyLogbook(entries).devices.map((one) => one.head);
    expect(codes(entries, heads)).toEqual([]);
    fc.assert(
      fc.property(fc.nat(entries.length - 1), fc.constantFrom('drop', 'date', 'who', 'strike'), (at, how) => {
        const entry = entries[at]!;
        const raw = JSON.parse(writeEntry(entry));
        if (how === 'date') raw.on = '2019-01-01';
        if (how === 'who') raw.by = `${raw.by}.`;
        if (how === 'strike') Object.assign(raw, { kind: 'strike', body: { entry: entries[0]!.id, reason: 'gone' } });
        const edited = how === 'drop' ? entries.toSpliced(at, 1) : entries.with(at, unwrap(readEntry(raw, 'here')));
        const found = verifyLogbook(edited, heads).findings;
        // The day and the writer of a statement are not signed; its instant, device and content are.
        if (entry.kind === 'witness' && (how === 'date' || how === 'who')) return;
        expect(found.length, `${how} of ${entry.kind}`).toBeGreaterThan(0);
      }),
      { seed: 300, numRuns: 60 },
    );
  });

  it('says nothing of a logbook that nobody signed', () => {
    const entries = demoEntries();
    expect(verifyLogbook(entries)).toMatchObject({ whole: true, devices: [], findings: [] });
    expect(verifyLogbook(entries).unwitnessed).toHaveLength(entries.length);
  });
});
