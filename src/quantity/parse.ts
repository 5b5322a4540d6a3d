/** From the text a person wrote to a quantity, or to a Problem that says how to write it. */

import { fail, ok, type Result } from '../problem/index.ts';
import { add, type Quantity, quantity, valueIn } from './convert.ts';
import { leadingNumber, plainText } from './number.ts';
import { type Dimension, type UnitId, unitIds, units, unitsOf } from './units.ts';

/** What two spellings of one unit have in common: no case, spaces, dots, hyphens, middle dots or degree signs. */
function key(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/\bper\b/g, '/')
    .replace(/[\s.°º·⋅∙•*\u0387-]/g, '');
}

const byKey = new Map<string, UnitId[]>();
for (const id of unitIds) {
  const spellings = new Set([id, units[id].symbol, units[id].name, ...units[id].aliases].map(key));
  for (const spelling of spellings) {
    if (spelling !== '') byKey.set(spelling, [...(byKey.get(spelling) ?? []), id]);
  }
}
// Spellings that mean different things in different fields; without a field to go by the first one is taken.
byKey.set('oz', ['oz', 'floz']);

/** The units a spelling may mean, the most usual first; empty where it means none. */
export function unitsNamed(spelling: string): readonly UnitId[] {
  return byKey.get(key(spelling)) ?? [];
}

/** Edits (insert, delete, replace, swap) between two short words. */
function distance(a: string, b: string): number {
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const replace = previous[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      row.push(Math.min(previous[j]! + 1, row[j - 1]! + 1, replace));
    }
    previous = row;
  }
  return previous[b.length]!;
}

/** Up to four units whose spellings are nearest to a misspelt one. */
export function nearUnits(spelling: string, expected?: Dimension): readonly string[] {
  const wanted = key(spelling);
  const best = new Map<string, number>();
  for (const [known, ids] of byKey) {
    const id = ids.find((one) => expected === undefined || units[one].dimension === expected);
    if (id === undefined) continue;
    const far = distance(wanted, known) / Math.max(wanted.length, known.length);
    const symbol = units[id].symbol || id;
    if (far < (best.get(symbol) ?? 0.67)) best.set(symbol, far);
  }
  return [...best]
    .sort((a, b) => a[1] - b[1])
    .slice(0, 4)
    .map(([symbol]) => symbol);
}

const EXAMPLES: Readonly<Partial<Record<Dimension, string>>> = {
  length: '`120 mi` or `7 1/2 in`',
  pressure: '`50 psi` or `345 kPa`',
  temperature: '`35 °F` or `12 °C`',
  mass: '`2,540 lb` or `1152 kg`',
  torque: '`110 lb-ft` or `149 N·m`',
  volume: '`30 gal` or `114 L`',
  ratio: '`12 %`',
  time: '`3 min` or `2 h`',
  calendar: '`12 months`',
  money: '`$40`',
  concentration: '`50 mg/L`',
  'electric-potential': '`12.6 V`',
  'electric-current': '`5 A`',
  'electric-charge': '`100 Ah`',
  power: '`30,000 BTU/h`',
};

/** `pressure, such as 50 psi`. */
export function dimensionText(dimension: Dimension): string {
  const name = dimension.replaceAll('-', ' ');
  const example =
    EXAMPLES[dimension] ??
    unitsOf(dimension)
      .slice(0, 3)
      .map((id) => units[id].symbol || 'a plain number')
      .join(', ');
  return `a ${name}, such as ${example}`;
}

/** A parsed number below absolute zero is nonsense in any field. */
function aboveAbsoluteZero(q: Quantity, text: string): Result<Quantity> {
  if (units[q.unit].dimension === 'temperature' && valueIn(q, 'K') < 0) {
    return fail({
      code: 'quantity.below-absolute-zero',
      what: `\`${text}\` is below absolute zero (−459.67 °F, −273.15 °C).`,
      expected: 'a temperature that can exist',
    });
  }
  return ok(q);
}

/** A unit from its spelling, for a field of the expected dimension. */
export function parseUnit(spelling: string, expected?: Dimension): Result<UnitId> {
  const named = unitsNamed(spelling);
  const expectation = expected === undefined ? {} : { expected: dimensionText(expected) };
  if (named.length === 0) {
    const near = nearUnits(spelling, expected);
    return fail({
      code: 'quantity.unit-unknown',
      what: `The unit \`${spelling}\` is not known.`,
      ...expectation,
      ...(near.length === 0 ? {} : { next: `Did you mean ${near.join(', ')}?` }),
    });
  }
  const fitting = named.find((id) => expected === undefined || units[id].dimension === expected);
  if (fitting === undefined) {
    const found = units[named[0]!].dimension.replaceAll('-', ' ');
    return fail({
      code: 'quantity.dimension-wrong',
      what: `\`${spelling}\` measures ${found}, not ${expected?.replaceAll('-', ' ')}.`,
      ...expectation,
      next: `Give it in ${unitsOf(expected!)
        .map((id) => units[id].symbol)
        .filter((s) => s !== '')
        .slice(0, 5)
        .join(', ')}.`,
    });
  }
  return ok(fitting);
}

/**
 * Reads a quantity as a person writes it: `50 psi`, `18,204.6 mi`, `12C`, `1 1/2 in`, `3,4 bar`, `$40`, `30 %`.
 * The rule for commas stands at the top of number.ts. A spelling with two meanings (`lb` as mass or force, `oz`, `ppm`,
 * `F`) is settled by the expected dimension. Counts may come without a unit; nothing else may.
 *
 * Two units of one kind add up in the first one's (`5 ft 6 in`, `1 h 30 min`).
 *
 * @returns the quantity in the unit as read, or a Problem: `quantity.number-missing`, `quantity.unit-missing`,
 * `quantity.unit-unknown`, `quantity.dimension-wrong`, `quantity.below-absolute-zero`.
 * @example parseQuantity('7-1/2 in', 'length') // { ok: true, value: { value: 7.5, unit: 'in' } }
 */
export function parseQuantity(text: string, expected?: Dimension): Result<Quantity> {
  const plain = plainText(text);
  const money = /^([+-]?) ?\$ ?(.*)$/.exec(plain);
  const number = leadingNumber(money === null ? plain : `${money[1]}${money[2]}`);
  if (number === null) {
    return fail({
      code: 'quantity.number-missing',
      what: plain === '' ? 'Nothing is written here.' : `\`${text.trim()}\` does not start with a number we can read.`,
      expected: expected === undefined ? 'a number and a unit, such as `50 psi`' : dimensionText(expected),
    });
  }
  const spelling = money === null ? number.rest : `$${number.rest}`;
  if (spelling === '') {
    if (expected === 'count') return ok(quantity(number.value, 'each'));
    return fail({
      code: 'quantity.unit-missing',
      what: `\`${text.trim()}\` has no unit.`,
      expected: expected === undefined ? 'a number and a unit, such as `50 psi`' : dimensionText(expected),
      next: 'Write the unit after the number.',
    });
  }
  const unit = parseUnit(spelling, expected);
  if (!unit.ok) return compound(number.value, spelling, expected) ?? unit;
  return aboveAbsoluteZero(quantity(number.value, unit.value), text.trim());
}

const COMPOUND: readonly Dimension[] = ['length', 'mass', 'time', 'volume', 'calendar'];

/** `5 ft 6 in`, `1 h 30 min`, `7 lb 4 oz`: the sum in the first unit; null where it is not of that form. */
function compound(value: number, spelling: string, expected: Dimension | undefined): Result<Quantity> | null {
  const [, head, tail] = /^([^\d.,]+?) ?(\d.*)$/.exec(spelling) ?? [];
  const first = head === undefined ? null : parseUnit(head, expected);
  if (first === null || !first.ok || !COMPOUND.includes(units[first.value].dimension)) return null;
  const rest = parseQuantity(tail ?? '', units[first.value].dimension);
  if (!rest.ok) return rest;
  const more = quantity(Math.sign(value) * rest.value.value || rest.value.value, rest.value.unit);
  return ok(add(quantity(value, first.value), more));
}

/** The same check for a value and a unit given apart, as JSON does. */
export function readQuantity(value: number, spelling: string, expected?: Dimension): Result<Quantity> {
  if (!Number.isFinite(value)) {
    return fail({ code: 'quantity.number-missing', what: `${value} is not a number.`, expected: 'a finite number' });
  }
  const unit = parseUnit(spelling, expected);
  return unit.ok ? aboveAbsoluteZero(quantity(value, unit.value), `${value} ${spelling}`) : unit;
}
