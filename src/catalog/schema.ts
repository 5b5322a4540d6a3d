/** The shape of the YAML, field by field. What one item may refer to is checked in references.ts. */

import * as z from 'zod/mini';
import { quantitySchema } from '../quantity/index.ts';
import { HAZARDS } from './hazard-names.ts';
import { monthsOf } from './limits.ts';

const id = z
  .string()
  .check(z.regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'expected lower case words joined by hyphens: `repack-bearings`'));
const text = z.string().check(z.trim(), z.minLength(1, 'expected some text'));
const texts = z._default(z.array(text), []);
const ids = z._default(z.array(id), []);
const amount = z.number().check(z.nonnegative());
const count = z.number().check(z.positive());
/** A number of months, or `6 years`. */
const months = z.pipe(z.union([count, quantitySchema('calendar')]), z.transform(monthsOf));
const camel = z.string().check(z.regex(/^[a-z][a-zA-Z0-9]*$/, 'expected a name like `pressureColdMin`'));
const unitText = text;

const hazard = z.enum(HAZARDS);
const some = z.array(hazard).check(z.minLength(1, 'expected hazards, or the word `none`'));
/** A list, or the word `none`, which becomes an empty one: forgetting is not the same as none. */
const hazards = z.exactOptional(
  z.pipe(
    z.union([z.literal('none'), some], { error: () => `expected \`none\`, or some of ${HAZARDS.join(', ')}` }),
    z.transform((said): z.infer<typeof some> => (said === 'none' ? [] : said)),
  ),
);
const needsFacts = z.exactOptional(z.array(id));
const figures = z.exactOptional(
  z.array(
    z.strictObject({
      what: text,
      is: z.exactOptional(quantitySchema()),
      from: z.exactOptional(quantitySchema()),
      to: z.exactOptional(quantitySchema()),
      source: id,
      note: z.exactOptional(text),
    }),
  ),
);

export const sourceSchema = z.strictObject({
  id,
  kind: z.enum(['regulation', 'standard', 'handbook', 'common practice']),
  title: text,
  edition: z.exactOptional(text),
  seen: z.enum(['read', 'memory']),
  note: z.exactOptional(text),
});

export const partKindSchema = z.strictObject({
  id,
  name: text,
  group: text,
  vehicle: z._default(z.enum(['trailer', 'tow']), 'trailer'),
  per: z.enum(['rig', 'axle', 'wheel', 'each']),
  identify: texts,
  facts: z._default(z.record(camel, text), {}),
  factUnits: z.exactOptional(z.record(camel, unitText)),
  hazards,
  expected: z.exactOptional(z.union([z.literal(true), id])),
  code: z.exactOptional(z.enum(['tire', 'cylinder'])),
});

export const setUpSchema = z.strictObject({
  id,
  title: text,
  minutes: amount,
  minutesEach: z.exactOptional(count),
  tools: ids,
  steps: texts,
  cautions: texts,
  presumes: z.exactOptional(z.array(id)),
  needsFacts,
  hazards,
  figures,
});

const sourced = {
  source: id,
  range: z.exactOptional(z.tuple([z.number(), z.number()])),
  note: z.exactOptional(text),
};

export const clockSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('miles'), every: quantitySchema('length'), ...sourced }),
  z.strictObject({ kind: z.literal('months'), every: months, ...sourced }),
  z.strictObject({ kind: z.literal('nights'), every: count, ...sourced }),
  z.strictObject({ kind: z.literal('hours'), every: count, counter: id, ...sourced }),
  z.strictObject({
    kind: z.literal('age'),
    from: z.exactOptional(months),
    by: z.exactOptional(months),
    countedFrom: z.enum(['made', 'fitted']),
    label: z.enum(['governs', 'required']),
    sizes: z.exactOptional(z.strictObject({ LT: z.strictObject({ from: months, by: months, source: id }) })),
    ...sourced,
  }),
  z.strictObject({ kind: z.literal('season'), before: z.enum(['first trip', 'first freeze']), ...sourced }),
  z.strictObject({ kind: z.literal('departure'), withinDays: amount, ...sourced }),
  z.strictObject({
    kind: z.literal('after'),
    setups: ids,
    upkeeps: ids,
    fitted: z.exactOptional(z.literal(true)),
    atMiles: z._default(z.array(quantitySchema('length')), []),
    atDays: z._default(z.array(amount), []),
    ...sourced,
  }),
  z.strictObject({
    kind: z.literal('limit'),
    reading: id,
    side: z.enum(['below', 'above']),
    limit: z.exactOptional(quantitySchema()),
    limitFact: z.exactOptional(camel),
    driftPerMonth: z.number(),
    driftSpread: amount,
    readingError: amount,
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
  clocks: z.array(clockSchema).check(z.minLength(1, 'expected at least one clock')),
  restores: z.boolean(),
  covers: ids,
  setups: ids,
  goesAfter: ids,
  minutes: count,
  skill: z.enum(['owner', 'careful owner', 'licensed']),
  place: z.enum(['home', 'anywhere', 'shop']),
  failure: z.strictObject({ cost: amount, steepness: count, consequence: text }),
  tools: ids,
  consumables: z._default(
    z.array(
      z.strictObject({
        what: text,
        quantity: text,
        leadDays: amount,
        cost: amount,
      }),
    ),
    [],
  ),
  steps: z.array(text).check(z.minLength(1, 'expected at least one step')),
  cautions: texts,
  readings: z._default(
    z.array(
      z.strictObject({
        what: id,
        unit: unitText,
        limit: z.exactOptional(text),
        least: z.exactOptional(quantitySchema()),
        most: z.exactOptional(quantitySchema()),
        notUnder: z.exactOptional(id),
        source: z.exactOptional(id),
      }),
    ),
    [],
  ),
  look: text,
  seasonOrder: z.exactOptional(z.strictObject({ spring: z.exactOptional(count), autumn: z.exactOptional(count) })),
  frostFree: z.exactOptional(z.literal(true)),
  goWithLimits: z.exactOptional(z.strictObject({ text, source: id })),
  drill: z.exactOptional(z.boolean()),
  restsOn: z.exactOptional(z.array(id)),
  hazards,
  needsFacts,
  figures,
});

/** `jack-bottle | jack-scissor`: the first is the usual one, the others do as well. */
const need = z
  .string()
  .check(
    z.regex(/^[a-z0-9-]+( \| [a-z0-9-]+)*$/, 'expected a kit item id, or several joined by ` | ` where any will do'),
  );

export const mishapSchema = z.strictObject({
  id,
  title: text,
  parts: z.array(id).check(z.minLength(1, 'expected at least one kind of part')),
  signs: z.array(text).check(z.minLength(1, 'expected at least one sign')),
  firstMinute: z.array(text).check(z.minLength(1, 'expected what to do first')),
  steps: z.array(text).check(z.minLength(1, 'expected at least one step')),
  tools: z._default(z.array(need), []),
  spares: z._default(z.array(need), []),
  doNotTowIf: texts,
  call: texts,
  cautions: texts,
  drill: z.exactOptional(id),
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
  note: z.exactOptional(text),
  weightLb: count,
  cost: amount,
});

export const rigFactSchema = z.strictObject({
  id,
  title: text,
  ask: text,
  unit: z.exactOptional(unitText),
  why: text,
  disagree: z
    .array(z.strictObject({ says: text, source: id }))
    .check(z.minLength(2, 'expected at least two sources that disagree')),
});

export const limitSchema = z.strictObject({
  id,
  is: quantitySchema(),
  text,
  bound: z.enum(['at least', 'at most', 'about']),
  what: text,
  source: id,
  also: z.exactOptional(z.array(z.strictObject({ says: text, source: id }))),
  note: z.exactOptional(text),
});

export const hazardSchema = z.strictObject({
  id: hazard,
  caution: text,
  speaks: z.array(text).check(z.minLength(1, 'expected words that speak of it')),
});

/** What a reading or a fact can plausibly be: `reading/pressure-cold`, `fact/tire.loadMax`, `rig-fact/wheel-nut-torque`. */
export const rangeSchema = z.strictObject({
  id: z
    .string()
    .check(
      z.regex(
        /^(reading\/[a-z0-9-]+|fact\/[a-z0-9-]+\.[a-zA-Z0-9]+|rig-fact\/[a-z0-9-]+)$/,
        'expected `reading/NAME`, `fact/KIND.FACT` or `rig-fact/ID`',
      ),
    ),
  least: quantitySchema(),
  most: quantitySchema(),
  such: quantitySchema(),
  source: id,
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
  ranges: rangeSchema,
  limits: limitSchema,
  hazards: hazardSchema,
} as const;

export type SectionName = keyof typeof sections;
