/** Random values from JSON Schemas, and what a hostile or broken client makes of good ones. Seeded. */

type Json = Record<string, unknown>;
export type Random = () => number;

/** Mulberry32: small, seeded, good enough to choose with. */
export function seeded(seed: number): Random {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export const pick = <T>(random: Random, from: readonly T[]): T => from[Math.floor(random() * from.length)]!;

const NASTY: readonly unknown[] = [
  null,
  true,
  0,
  -1,
  1e308,
  -0.5,
  9007199254740991,
  '',
  ' ',
  '\u0000',
  '\ud800',
  '\u202e',
  'x'.repeat(5000),
  '__proto__',
  'constructor',
  "' OR 1=1 --",
  '../../etc/passwd',
  '%00',
  '#{7*7}',
  '<script>',
  '2026-02-30',
  '9999-12-31',
  '0000-00-00',
  'NaN psi',
  '1e999 mi',
  '-5 psi',
  [],
  {},
  [[[[]]]],
  { __proto__x: 1 },
  { value: 1 },
  { value: Number.MAX_VALUE, unit: 'psi' },
  { $ref: '#' },
];

/** Samples a schema of the document; `words` are strings that mean something to the server. */
export class Sampler {
  constructor(
    readonly random: Random,
    readonly components: Json,
    readonly words: readonly string[],
  ) {}

  sample(schema: Json, depth = 0): unknown {
    const { random } = this;
    if (depth > 12) return null;
    if (typeof schema.$ref === 'string')
      return this.sample(this.components[schema.$ref.split('/').at(-1)!] as Json, depth + 1);
    const choices = (schema.oneOf ?? schema.anyOf) as Json[] | undefined;
    if (choices) return this.sample(pick(random, choices), depth + 1);
    if ('const' in schema) return schema.const;
    if (Array.isArray(schema.enum)) return pick(random, schema.enum);
    switch (schema.type) {
      case 'object':
        return this.#object(schema, depth);
      case 'array':
        return Array.from({ length: Math.floor(random() * 3) + ((schema.minItems as number) ?? 0) }, () =>
          this.sample((schema.items as Json) ?? {}, depth + 1),
        );
      case 'integer':
        return Math.floor(random() * 100);
      case 'number':
        return random() * 1000;
      case 'boolean':
        return random() < 0.5;
      case 'null':
        return null;
      case 'string':
        return pick(random, this.words);
      default:
        return pick<unknown>(random, [...this.words, 1, null, {}]);
    }
  }

  #object(schema: Json, depth: number): Json {
    const required = new Set((schema.required as string[]) ?? []);
    const made: Json = {};
    for (const [name, property] of Object.entries((schema.properties as Json) ?? {})) {
      if (required.has(name) || this.random() < 0.4) made[name] = this.sample(property as Json, depth + 1);
    }
    return made;
  }

  /** One thing in it changed, taken away or added. */
  mutate(value: unknown): unknown {
    const { random } = this;
    if (random() < 0.3 || typeof value !== 'object' || value === null) return pick(random, NASTY);
    if (Array.isArray(value)) {
      if (value.length === 0) return [pick(random, NASTY)];
      const at = Math.floor(random() * value.length);
      return value.map((one, i) => (i === at ? this.mutate(one) : one));
    }
    const keys = Object.keys(value);
    const key = keys.length ? pick(random, keys) : 'x';
    const { [key]: old, ...rest } = value as Json;
    const what = random();
    if (what < 0.15) return rest;
    if (what < 0.25)
      return { ...value, [pick(random, ['extra', 'rig', 'by', 'via', 'role', 'constructor'])]: pick(random, NASTY) };
    return { ...value, [key]: this.mutate(old) };
  }

  /** A text cut short, doubled, or with a byte of it changed. */
  tear(text: string): string {
    const at = Math.floor(this.random() * text.length);
    return pick(this.random, [
      text.slice(0, at),
      text + text,
      `${text.slice(0, at)}\u0000${text.slice(at + 1)}`,
      `${text.slice(0, at)}"${text.slice(at)}`,
    ]);
  }
}
