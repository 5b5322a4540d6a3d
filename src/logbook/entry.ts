import * as z from 'zod/mini';
import { isPlainDate } from '../dates/index.ts';
import { type Dimension, quantitySchema } from '../quantity/index.ts';
import { ENTRY_LIMITS } from './cost.ts';

/** The version of entry bodies that this program writes. Older ones are upcast when read, newer ones are refused whole. */
export const ENTRY_VERSION = 1;
/** Most entries named by one statement of a device; a first one of an old logbook takes several. */
export const WITNESSED_MAX = 500;

const plainDate = z.string().check(z.refine(isPlainDate, { error: 'expected a date as YYYY-MM-DD' }));
/** A date that a label or a stamp gives, as exactly as it does: `2019`, `2019-04` or `2019-04-12`. */
const labelDate = z
  .string()
  .check(z.regex(/^\d{4}(-(0[1-9]|1[0-2])(-\d{2})?)?$/, 'expected YYYY, YYYY-MM or YYYY-MM-DD'));
const slug = z
  .string()
  .check(
    z.maxLength(ENTRY_LIMITS.slug),
    z.regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'expected small letters, digits and single hyphens'),
  );
const text = z.string().check(z.trim(), z.minLength(1), z.maxLength(ENTRY_LIMITS.text));
const factName = z.string().check(z.regex(/^[a-z][a-zA-Z0-9]{0,59}$/, 'expected a name like pressureColdMin'));
const ulid = z.string().check(z.regex(/^[0-7][0-9A-HJKMNP-TV-Z]{25}$/, 'expected a ULID of 26 characters'));
const q = (dimension: Dimension) => quantitySchema(dimension);
const length = q('length');
const mass = q('mass');
const vehicle = z.enum(['trailer', 'tow']);
const amount = z.number().check(z.nonnegative());
const count = z.int().check(z.nonnegative());
/** So many hexadecimal digits. */
const hex = (digits: number) =>
  z.string().check(z.regex(new RegExp(`^[0-9a-f]{${digits}}$`), `expected ${digits} hexadecimal digits`));
const rating = z.object({ value: mass, origin: text });

/** A rating as read, with where it was read: certification label, axle plate, receiver sticker, handbook. */
export type Rating = z.infer<typeof rating>;

const bodies = {
  /** A vehicle of the rig: the trailer, or what tows it. The newest enrolment of a role holds. */
  enroll: z.strictObject({
    vehicle,
    name: text,
    year: z.optional(z.int().check(z.gte(1950), z.lte(2100))),
    vin: z.optional(text),
    axles: z.optional(z.int().check(z.gte(1), z.lte(3))),
    suspension: z.optional(z.enum(['leaf', 'torsion'])),
    brakes: z.optional(z.enum(['electric', 'hydraulic', 'none'])),
    ratings: z.optional(
      z.strictObject({
        gvwr: z.optional(rating),
        gcwr: z.optional(rating),
        payload: z.optional(rating),
        gawrFront: z.optional(rating),
        gawrRear: z.optional(rating),
        /** Of one trailer axle. */
        gawrAxle: z.optional(rating),
        receiver: z.optional(rating),
        receiverTongue: z.optional(rating),
        ball: z.optional(rating),
        coupler: z.optional(rating),
        chains: z.optional(rating),
      }),
    ),
    dimensions: z.optional(
      z.strictObject({ wheelbase: z.optional(length), overhang: z.optional(length), ballToAxles: z.optional(length) }),
    ),
    home: z.optional(z.strictObject({ place: text, elevation: z.optional(length) })),
  }),
  /** A part comes onto the rig (or is found on it, on the first day). Fitted new, it starts every clock afresh. */
  fit: z.strictObject({
    part: slug,
    kind: slug,
    place: z.optional(text),
    /** Which vehicle, where the kind of part can sit on either (papers). */
    vehicle: z.optional(vehicle),
    isNew: z.boolean(),
    madeOn: z.optional(labelDate),
    code: z.optional(text),
    goodThrough: z.optional(labelDate),
    facts: z.optional(
      z
        .record(factName, z.union([z.string().check(z.maxLength(ENTRY_LIMITS.text)), z.number(), quantitySchema()]))
        .check(
          z.refine(
            (facts) => Object.keys(facts).length <= ENTRY_LIMITS.facts,
            `expected at most ${ENTRY_LIMITS.facts} facts`,
          ),
        ),
    ),
    odometer: z.optional(length),
    replaces: z.optional(slug),
    cost: z.optional(amount),
    note: z.optional(text),
  }),
  remove: z.strictObject({ part: slug, reason: text, odometer: z.optional(length) }),
  /** One thing read off a gauge, a meter or a label. `what: odometer` belongs to a vehicle, all else to a part. */
  reading: z
    .strictObject({
      part: z.optional(slug),
      vehicle: z.optional(vehicle),
      what: slug,
      value: quantitySchema(),
      temperature: z.optional(q('temperature')),
      elevation: z.optional(length),
      note: z.optional(text),
    })
    .check(
      z.refine((b) => (b.what === 'odometer') === (b.part === undefined), {
        error: 'a reading names its part; an odometer reading names its vehicle instead',
      }),
    ),
  /** Work on one or many parts in one go, with the odometer it was done at. */
  work: z.strictObject({
    done: z
      .array(
        z.strictObject({
          upkeep: slug,
          part: slug,
          outcome: z.enum(['good', 'failed']),
          /** Good until then, where the work itself says so (a requalification stamp, a certificate). */
          goodThrough: z.optional(labelDate),
          readings: z.optional(
            z
              .array(z.strictObject({ what: slug, value: quantitySchema() }))
              .check(z.maxLength(ENTRY_LIMITS.readingsOfJob)),
          ),
        }),
      )
      .check(z.minLength(1), z.maxLength(ENTRY_LIMITS.jobs)),
    odometer: z.optional(length),
    odometerTow: z.optional(length),
    /** Set-ups used, where they differ from what the catalog says for these upkeeps. */
    setups: z.optional(z.array(slug).check(z.maxLength(ENTRY_LIMITS.setups))),
    /** Entries that found wrong what this work put right: they stay, and no longer speak against it. */
    mends: z.optional(z.array(ulid).check(z.minLength(1), z.maxLength(ENTRY_LIMITS.mends))),
    minutes: z.optional(amount),
    cost: z.optional(amount),
    doneBy: z.optional(text),
    note: z.optional(text),
  }),
  /** A trip planned, planned again (same `trip`), or given up. */
  trip: z
    .strictObject({
      trip: slug,
      name: text,
      leave: plainDate,
      return: plainDate,
      miles: length,
      /** 1 for a trip that will be made; less for a tentative one. */
      chance: z._default(z.number().check(z.gt(0), z.lte(1)), 1),
      nights: z.optional(count),
      highest: z.optional(q('temperature')),
      lowest: z.optional(q('temperature')),
      greatestHeight: z.optional(length),
      generatorHours: z.optional(amount),
      stops: z.optional(z.array(z.strictObject({ name: text, mile: length })).check(z.maxLength(ENTRY_LIMITS.stops))),
      cancelled: z.optional(z.boolean()),
    })
    .check(
      z.refine((b) => b.leave <= b.return, {
        error: 'a trip returns on the day it leaves, or later',
        path: ['return'],
      }),
    ),
  'trip-done': z
    .strictObject({
      trip: slug,
      left: plainDate,
      back: plainDate,
      miles: length,
      odometer: z.optional(length),
      odometerTow: z.optional(length),
      nights: z.optional(count),
      generatorHours: z.optional(amount),
      note: z.optional(text),
    })
    .check(z.refine((b) => b.left <= b.back, { error: 'a trip is back on the day it left, or later', path: ['back'] })),
  /** Scale tickets of one weighing. Axle groups as the platform gives them. */
  weigh: z.strictObject({
    solo: z.optional(z.strictObject({ front: mass, rear: mass })),
    hitchedSlack: z.optional(z.strictObject({ front: mass, rear: mass, axles: mass })),
    hitchedSet: z.optional(z.strictObject({ front: mass, rear: mass, axles: mass })),
    /** By a tongue scale, and the trailer's axles on a platform. */
    tongue: z.optional(mass),
    axles: z.optional(mass),
    step: z.optional(mass),
    place: z.optional(text),
    cargo: z.optional(text),
  }),
  /** A tool or spare (by its catalog id) or a load comes aboard or leaves. */
  carry: z.strictObject({
    item: slug,
    aboard: z.boolean(),
    where: z.optional(text),
    weight: z.optional(mass),
    vehicle: z.optional(vehicle),
    cost: z.optional(amount),
    note: z.optional(text),
  }),
  /** A mishap practised at home, and by whom. */
  drill: z.strictObject({
    upkeep: slug,
    part: slug,
    who: text,
    outcome: z.enum(['good', 'failed']),
    minutes: z.optional(amount),
    note: z.optional(text),
  }),
  /** A paper renewed: registration, inspection, insurance (each a part). */
  paper: z.strictObject({
    part: slug,
    goodThrough: plainDate,
    number: z.optional(text),
    cost: z.optional(amount),
    note: z.optional(text),
  }),
  /** The owner's own figure for something; the newest of a key holds. `null` takes it back. See `settings.ts`. */
  set: z.strictObject({
    key: z.string().check(z.maxLength(3 * ENTRY_LIMITS.slug), z.regex(/^[a-z0-9]+([-./][a-z0-9]+)*$/)),
    value: z.json(),
    note: z.optional(text),
  }),
  /** The odometer was replaced (or rolled over): it showed `was`, and from then on `now`. */
  adjust: z.strictObject({ what: z.literal('odometer'), vehicle, was: length, now: length, reason: text }),
  /** The owner overrules a finding for one trip. */
  waive: z.strictObject({ trip: slug, finding: text, reason: text }),
  strike: z.strictObject({ entry: ulid, reason: text }),
  /** A device signs which entries it holds. Each device has one chain of them; what they prove is worked out in `proof`. */
  witness: z.strictObject({
    /** Public key of the device (Ed25519, RFC 8032). */
    device: hex(64),
    /** What the owner calls the device. */
    name: text,
    /** 1, 2, 3 … in the chain of this device. */
    number: z.int().check(z.gte(1), z.lte(1_000_000)),
    /** SHA-256 of the device's previous statement; absent in its first. */
    previous: z.optional(hex(64)),
    /** Entries held since: id, and the first 16 bytes of SHA-256 of the entry's line. */
    holds: z
      .array(z.string().check(z.regex(/^[0-7][0-9A-HJKMNP-TV-Z]{25} [0-9a-f]{32}$/)))
      .check(z.maxLength(WITNESSED_MAX)),
    /** The newest statement known of each other device: its key, number and SHA-256. */
    beside: z
      .array(z.strictObject({ device: hex(64), number: z.int().check(z.gte(1)), hash: hex(64) }))
      .check(z.maxLength(100)),
    /** Devices whose keys end here: this one's own, or one that was lost. */
    retires: z.optional(z.array(hex(64)).check(z.minLength(1), z.maxLength(100))),
    signature: hex(128),
  }),
} as const;

export type EntryKind = keyof typeof bodies;
export const ENTRY_KINDS = Object.keys(bodies) as readonly EntryKind[];

const instant = z.iso.datetime({ error: 'expected an instant in UTC, 2026-06-12T08:30:00Z' });

const envelope = {
  id: ulid,
  rig: slug,
  on: plainDate,
  at: instant,
  by: text,
  v: z.literal(ENTRY_VERSION),
  /** Content hashes of photos and papers kept with it. */
  blobs: z.optional(z.array(z.string().check(z.regex(/^[0-9a-f]{64}$/))).check(z.maxLength(ENTRY_LIMITS.blobs))),
};

type Body<K extends EntryKind> = z.infer<(typeof bodies)[K]>;

/** One line of the logbook. `on` is the day it speaks of, `at` the instant it was written, `by` who wrote it. */
export interface EntryOf<K extends EntryKind> {
  readonly id: string;
  readonly rig: string;
  readonly kind: K;
  readonly on: string;
  readonly at: string;
  readonly by: string;
  readonly v: typeof ENTRY_VERSION;
  readonly body: Body<K>;
  readonly blobs?: readonly string[];
}

export type Entry = { [K in EntryKind]: EntryOf<K> }[EntryKind];
/** An entry before it has an id and a writer. */
export type Draft = { [K in EntryKind]: { readonly kind: K; readonly on: string; readonly body: Body<K> } }[EntryKind];

/** The schema of any entry, as zod; the API, the import and the forms are made from it. */
export const entrySchema = z.discriminatedUnion(
  'kind',
  ENTRY_KINDS.map((kind) => z.strictObject({ ...envelope, kind: z.literal(kind), body: bodies[kind] })) as unknown as [
    z.ZodMiniObject<{ kind: z.ZodMiniLiteral<string> }>,
  ],
) as unknown as z.ZodMiniType<Entry>;

/** The schema of one kind's body, for forms. */
export function bodySchema<K extends EntryKind>(kind: K): (typeof bodies)[K] {
  return bodies[kind];
}
