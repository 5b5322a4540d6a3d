/** The shape of the YAML, field by field. What one item may refer to is checked in references.ts. */

import { z } from 'zod';
import { quantitySchema } from '../quantity/index.ts';

const id = z
  .string()
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'expected lower case words joined by hyphens: `repack-bearings`');
const text = z.string().trim().min(1, 'expected some text');
const texts = z.array(text).default([]);
const ids = z.array(id).default([]);
const count = z.number().positive();
const camel = z.string().regex(/^[a-z][a-zA-Z0-9]*$/, 'expected a name like `pressureColdMin`');
const unitText = text;

const hazards = z
  .array(z.enum(['jacking', 'brakes', 'LP gas', '120 V', 'acid and sparks', 'stored force', 'heights', 'heat']))
  .exactOptional();
const needsFacts = z.array(id).exactOptional();
const figures = z
  .array(
    z.strictObject({
      what: text,
      is: quantitySchema().exactOptional(),
      from: quantitySchema().exactOptional(),
      to: quantitySchema().exactOptional(),
      source: id,
      note: text.exactOptional(),
    }),
  )
  .exactOptional();

export const sourceSchema = z.strictObject({
  id,
  kind: z.enum(['regulation', 'standard', 'handbook', 'common practice']),
  title: text,
  edition: text.exactOptional(),
  seen: z.enum(['read', 'memory']),
  note: text.exactOptional(),
});

export const partKindSchema = z.strictObject({
  id,
  name: text,
  group: text,
  vehicle: z.enum(['trailer', 'tow']).default('trailer'),
  per: z.enum(['rig', 'axle', 'wheel', 'each']),
  identify: texts,
  facts: z.record(camel, text).default({}),
  factUnits: z.record(camel, unitText).exactOptional(),
  hazards,
  expected: z.union([z.literal(true), id]).exactOptional(),
  code: z.enum(['tire', 'cylinder']).exactOptional(),
});

export const setUpSchema = z.strictObject({
  id,
  title: text,
  minutes: z.number().nonnegative(),
  tools: ids,
  steps: texts,
  cautions: texts,
  presumes: z.array(id).exactOptional(),
  needsFacts,
  hazards,
  figures,
});

const sourced = {
  source: id,
  range: z.tuple([z.number(), z.number()]).exactOptional(),
  note: text.exactOptional(),
};

export const clockSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('miles'), every: quantitySchema('length'), ...sourced }),
  z.strictObject({ kind: z.literal('months'), every: count, ...sourced }),
  z.strictObject({ kind: z.literal('nights'), every: count, ...sourced }),
  z.strictObject({ kind: z.literal('hours'), every: count, counter: id, ...sourced }),
  z.strictObject({
    kind: z.literal('age'),
    from: count.exactOptional(),
    by: count.exactOptional(),
    countedFrom: z.enum(['made', 'fitted']),
    label: z.enum(['governs', 'required']),
    ...sourced,
  }),
  z.strictObject({ kind: z.literal('season'), before: z.enum(['first trip', 'first freeze']), ...sourced }),
  z.strictObject({ kind: z.literal('departure'), withinDays: z.number().nonnegative(), ...sourced }),
  z.strictObject({
    kind: z.literal('after'),
    setups: ids,
    upkeeps: ids,
    atMiles: z.array(quantitySchema('length')).default([]),
    atDays: z.array(z.number().nonnegative()).default([]),
    ...sourced,
  }),
  z.strictObject({
    kind: z.literal('limit'),
    reading: id,
    side: z.enum(['below', 'above']),
    limit: quantitySchema().exactOptional(),
    limitFact: camel.exactOptional(),
    driftPerMonth: z.number(),
    driftSpread: z.number().nonnegative(),
    readingError: z.number().nonnegative(),
    staleDays: count,
    ...sourced,
  }),
]);

export const upkeepSchema = z.strictObject({
  id,
  title: text,
  part: id,
  why: text,
  severity: z.enum(['safety', 'damage', 'comfort']),
  clocks: z.array(clockSchema).min(1, 'expected at least one clock'),
  restores: z.boolean(),
  covers: ids,
  setups: ids,
  goesAfter: ids,
  minutes: count,
  skill: z.enum(['owner', 'careful owner', 'licensed']),
  place: z.enum(['home', 'anywhere', 'shop']),
  failure: z.strictObject({ cost: z.number().nonnegative(), steepness: count, consequence: text }),
  tools: ids,
  consumables: z
    .array(
      z.strictObject({
        what: text,
        quantity: text,
        leadDays: z.number().nonnegative(),
        cost: z.number().nonnegative(),
      }),
    )
    .default([]),
  steps: z.array(text).min(1, 'expected at least one step'),
  cautions: texts,
  readings: z
    .array(z.strictObject({ what: id, unit: unitText, limit: text.exactOptional(), source: id.exactOptional() }))
    .default([]),
  look: text,
  seasonOrder: z.strictObject({ spring: count.exactOptional(), autumn: count.exactOptional() }).exactOptional(),
  frostFree: z.literal(true).exactOptional(),
  goWithLimits: z.strictObject({ text, source: id }).exactOptional(),
  drill: z.boolean().exactOptional(),
  restsOn: z.array(id).exactOptional(),
  hazards,
  needsFacts,
  figures,
});

/** `jack-bottle | jack-scissor`: the first is the usual one, the others do as well. */
const need = z
  .string()
  .regex(/^[a-z0-9-]+( \| [a-z0-9-]+)*$/, 'expected a kit item id, or several joined by ` | ` where any will do');

export const mishapSchema = z.strictObject({
  id,
  title: text,
  parts: z.array(id).min(1, 'expected at least one kind of part'),
  signs: z.array(text).min(1, 'expected at least one sign'),
  firstMinute: z.array(text).min(1, 'expected what to do first'),
  steps: z.array(text).min(1, 'expected at least one step'),
  tools: z.array(need).default([]),
  spares: z.array(need).default([]),
  doNotTowIf: texts,
  call: texts,
  cautions: texts,
  drill: id.exactOptional(),
  preventedBy: ids,
  source: id,
  hazards,
  needsFacts,
  figures,
});

export const kitItemSchema = z.strictObject({
  id,
  name: text,
  kind: z.enum(['tool', 'spare']),
  note: text.exactOptional(),
  weightLb: count,
  cost: z.number().nonnegative(),
});

export const rigFactSchema = z.strictObject({
  id,
  title: text,
  ask: text,
  unit: unitText.exactOptional(),
  why: text,
  disagree: z.array(z.strictObject({ says: text, source: id })).min(2, 'expected at least two sources that disagree'),
});

/** The lists a file may hold; every file may hold any of them. */
export const sections = {
  sources: sourceSchema,
  parts: partKindSchema,
  setups: setUpSchema,
  upkeeps: upkeepSchema,
  mishaps: mishapSchema,
  kit: kitItemSchema,
  rigFacts: rigFactSchema,
} as const;

export type SectionName = keyof typeof sections;
