import { z } from 'zod';
import { isPlainDate } from '../dates/index.ts';
import { type Dimension, quantitySchema } from '../quantity/index.ts';

/** The version of entry bodies that this program writes. Older ones are upcast when read, newer ones are refused whole. */
export const ENTRY_VERSION = 1;

const plainDate = z.string().refine(isPlainDate, { error: 'expected a date as YYYY-MM-DD' });
/** A date that a label or a stamp gives, as exactly as it does: `2019`, `2019-04` or `2019-04-12`. */
const labelDate = z.string().regex(/^\d{4}(-(0[1-9]|1[0-2])(-\d{2})?)?$/, 'expected YYYY, YYYY-MM or YYYY-MM-DD');
const slug = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'expected small letters, digits and single hyphens');
const text = z.string().trim().min(1).max(2000);
const q = (dimension: Dimension) => quantitySchema(dimension);
const length = q('length');
const mass = q('mass');
const vehicle = z.enum(['trailer', 'tow']);
const count = z.number().int().nonnegative();
const rating = z.object({ value: mass, origin: text });

/** A rating as read, with where it was read: certification label, axle plate, receiver sticker, handbook. */
export type Rating = z.infer<typeof rating>;

const bodies = {
  /** A vehicle of the rig: the trailer, or what tows it. The newest enrolment of a role holds. */
  enroll: z.strictObject({
    vehicle,
    name: text,
    year: z.number().int().min(1950).max(2100).optional(),
    vin: text.optional(),
    axles: z.number().int().min(1).max(3).optional(),
    suspension: z.enum(['leaf', 'torsion']).optional(),
    brakes: z.enum(['electric', 'hydraulic', 'none']).optional(),
    ratings: z
      .strictObject({
        gvwr: rating.optional(),
        gcwr: rating.optional(),
        payload: rating.optional(),
        gawrFront: rating.optional(),
        gawrRear: rating.optional(),
        /** Of one trailer axle. */
        gawrAxle: rating.optional(),
        receiver: rating.optional(),
        receiverTongue: rating.optional(),
        ball: rating.optional(),
        coupler: rating.optional(),
        chains: rating.optional(),
      })
      .optional(),
    dimensions: z
      .strictObject({ wheelbase: length.optional(), overhang: length.optional(), ballToAxles: length.optional() })
      .optional(),
    home: z.strictObject({ place: text, elevation: length.optional() }).optional(),
  }),
  /** A part comes onto the rig (or is found on it, on the first day). Fitted new, it starts every clock afresh. */
  fit: z.strictObject({
    part: slug,
    kind: slug,
    place: text.optional(),
    /** Which vehicle, where the kind of part can sit on either (papers). */
    vehicle: vehicle.optional(),
    isNew: z.boolean(),
    madeOn: labelDate.optional(),
    code: text.optional(),
    goodThrough: labelDate.optional(),
    facts: z.record(z.string(), z.union([z.string(), z.number(), quantitySchema()])).optional(),
    odometer: length.optional(),
    replaces: slug.optional(),
    cost: z.number().nonnegative().optional(),
    note: text.optional(),
  }),
  remove: z.strictObject({ part: slug, reason: text, odometer: length.optional() }),
  /** One thing read off a gauge, a meter or a label. `what: odometer` belongs to a vehicle, all else to a part. */
  reading: z
    .strictObject({
      part: slug.optional(),
      vehicle: vehicle.optional(),
      what: slug,
      value: quantitySchema(),
      temperature: q('temperature').optional(),
      elevation: length.optional(),
      note: text.optional(),
    })
    .refine((b) => (b.what === 'odometer') === (b.part === undefined), {
      error: 'a reading names its part; an odometer reading names its vehicle instead',
    }),
  /** Work on one or many parts in one go, with the odometer it was done at. */
  work: z.strictObject({
    done: z
      .array(
        z.strictObject({
          upkeep: slug,
          part: slug,
          outcome: z.enum(['good', 'failed']),
          /** Good until then, where the work itself says so (a requalification stamp, a certificate). */
          goodThrough: labelDate.optional(),
          readings: z.array(z.strictObject({ what: slug, value: quantitySchema() })).optional(),
        }),
      )
      .min(1),
    odometer: length.optional(),
    odometerTow: length.optional(),
    /** Set-ups used, where they differ from what the catalog says for these upkeeps. */
    setups: z.array(slug).optional(),
    /** Entries that found wrong what this work put right: they stay, and no longer speak against it. */
    mends: z.array(z.string()).min(1).optional(),
    minutes: z.number().nonnegative().optional(),
    cost: z.number().nonnegative().optional(),
    doneBy: text.optional(),
    note: text.optional(),
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
      chance: z.number().gt(0).max(1).default(1),
      nights: count.optional(),
      highest: q('temperature').optional(),
      lowest: q('temperature').optional(),
      greatestHeight: length.optional(),
      generatorHours: z.number().nonnegative().optional(),
      stops: z.array(z.strictObject({ name: text, mile: length })).optional(),
      cancelled: z.boolean().optional(),
    })
    .refine((b) => b.leave <= b.return, { error: 'a trip returns on the day it leaves, or later', path: ['return'] }),
  'trip-done': z
    .strictObject({
      trip: slug,
      left: plainDate,
      back: plainDate,
      miles: length,
      odometer: length.optional(),
      odometerTow: length.optional(),
      nights: count.optional(),
      generatorHours: z.number().nonnegative().optional(),
      note: text.optional(),
    })
    .refine((b) => b.left <= b.back, { error: 'a trip is back on the day it left, or later', path: ['back'] }),
  /** Scale tickets of one weighing. Axle groups as the platform gives them. */
  weigh: z.strictObject({
    solo: z.strictObject({ front: mass, rear: mass }).optional(),
    hitchedSlack: z.strictObject({ front: mass, rear: mass, axles: mass }).optional(),
    hitchedSet: z.strictObject({ front: mass, rear: mass, axles: mass }).optional(),
    /** By a tongue scale, and the trailer's axles on a platform. */
    tongue: mass.optional(),
    axles: mass.optional(),
    step: mass.optional(),
    place: text.optional(),
    cargo: text.optional(),
  }),
  /** A tool or spare (by its catalog id) or a load comes aboard or leaves. */
  carry: z.strictObject({
    item: slug,
    aboard: z.boolean(),
    where: text.optional(),
    weight: mass.optional(),
    vehicle: vehicle.optional(),
    cost: z.number().nonnegative().optional(),
    note: text.optional(),
  }),
  /** A mishap practised at home, and by whom. */
  drill: z.strictObject({
    upkeep: slug,
    part: slug,
    who: text,
    outcome: z.enum(['good', 'failed']),
    minutes: z.number().nonnegative().optional(),
    note: text.optional(),
  }),
  /** A paper renewed: registration, inspection, insurance (each a part). */
  paper: z.strictObject({
    part: slug,
    goodThrough: plainDate,
    number: text.optional(),
    cost: z.number().nonnegative().optional(),
    note: text.optional(),
  }),
  /** The owner's own figure for something; the newest of a key holds. `null` takes it back. See `settings.ts`. */
  set: z.strictObject({
    key: z.string().regex(/^[a-z0-9]+([-./][a-z0-9]+)*$/),
    value: z.json(),
    note: text.optional(),
  }),
  /** The odometer was replaced (or rolled over): it showed `was`, and from then on `now`. */
  adjust: z.strictObject({ what: z.literal('odometer'), vehicle, was: length, now: length, reason: text }),
  /** The owner overrules a finding for one trip. */
  waive: z.strictObject({ trip: slug, finding: text, reason: text }),
  strike: z.strictObject({ entry: z.string(), reason: text }),
} as const;

export type EntryKind = keyof typeof bodies;
export const ENTRY_KINDS = Object.keys(bodies) as readonly EntryKind[];

const ulid = z.string().regex(/^[0-7][0-9A-HJKMNP-TV-Z]{25}$/, 'expected a ULID of 26 characters');
const instant = z.iso.datetime({ error: 'expected an instant in UTC, 2026-06-12T08:30:00Z' });

const envelope = {
  id: ulid,
  rig: slug,
  on: plainDate,
  at: instant,
  by: text,
  v: z.literal(ENTRY_VERSION),
  /** Content hashes of photos and papers kept with it. */
  blobs: z.array(z.string().regex(/^[0-9a-f]{64}$/)).optional(),
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
    z.ZodObject<{ kind: z.ZodLiteral<string> }>,
  ],
) as unknown as z.ZodType<Entry>;

/** The schema of one kind's body, for forms. */
export function bodySchema<K extends EntryKind>(kind: K): (typeof bodies)[K] {
  return bodies[kind];
}
