/**
 * `bleach-dose` and `bleach-concentration`: sanitizing a fresh-water system.
 *
 * Arithmetic: a product of s per cent holds s·10 grams in a litre, as sold (weight by volume; the label's figure is taken so).
 * Sources: at least 50 mg/L held for 4 hours (CDC Vessel Sanitation Program manual 5.3.4.1.4); 1/4 cup in 15 gallons, 4 hours
 * (a trailer handbook); ANSI/AWWA C652 method 1: 10 mg/L for 6 to 24 hours, method 2: 200 mg/L, which no tank is given more than.
 * Household bleach is sold at 5.25 to 8.25 %; stronger is pool chlorine. Nobody drinks above 4 mg/L (EPA, from memory).
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, systemOf, valueIn } from '../quantity/index.ts';

export interface BleachDose {
  readonly dose: Quantity;
  /** How long it must stand. */
  readonly hold: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

const CAUTIONS = [
  'Plain unscented household bleach only; never with vinegar, ammonia or another cleaner.',
  'Dilute it in a gallon first, run every tap until it smells, then drain and flush until it does not. Bypass filters and the water heater’s anode by its handbook.',
  'Nobody drinks it: flush to 4 mg/L or less by a test strip, before a tap is used.',
] as const;

/** For figures that went from one unit to another and back. */
const LAST_BIT = 1 + 1e-9;

/** The strongest household bleach, share. */
const HOUSEHOLD_MOST = 0.0825;
const STRONG =
  'Stronger than household bleach: pool chlorine. Only where its label allows drinking water; goggles and gloves, it burns.';

/** Strength of household products as sold, weight of chlorine by volume: 1 to 13 %. */
function strengthProblem(strength: Quantity) {
  const share = valueIn(strength, 'ratio');
  if (share >= 0.01 && share <= 0.13) return null;
  return {
    code: 'water.strength',
    what: 'Household bleach is sold at 5.25 to 8.25 %; nothing sold as bleach is outside 1 to 13 %.',
    where: 'strength',
    expected: 'the per cent of sodium hypochlorite on the label, such as 6 % or 8.25 %',
  };
}

function positiveProblem(q: Quantity, unit: 'mg/L' | 'L', where: string) {
  return valueIn(q, unit) > 0
    ? null
    : { code: 'water.amount', what: 'There must be some of it.', where, expected: 'a value above zero' };
}

/** The least that any published method asks for in a tank, and the most, mg/L. */
const WEAKEST = 10;
const STRONGEST = 200;
const FOUR_HOURS_FROM = 50;

/** Hours to stand at a concentration, by the published pairs; null under the lowest of them. */
function holdHours(milligrams: number): number | null {
  if (milligrams >= FOUR_HOURS_FROM) return 4;
  return milligrams >= WEAKEST ? 24 : null;
}

/**
 * @param input.target mg/L in the tank
 * @param input.volume of the whole system: tank, heater, pipes
 * @param input.strength per cent as sold
 * @example 50 mg/L, 40 gal, 6 % → 4.27 fl oz (126 mL)
 */
export function bleachDose(input: {
  readonly target: Quantity;
  readonly volume: Quantity;
  readonly strength: Quantity;
}): Result<BleachDose> {
  const wrong =
    strengthProblem(input.strength) ??
    positiveProblem(input.target, 'mg/L', 'target') ??
    positiveProblem(input.volume, 'L', 'volume');
  if (wrong !== null) return fail(wrong);
  const target = valueIn(input.target, 'mg/L');
  if (target > STRONGEST * LAST_BIT)
    return fail({
      code: 'water.too-strong',
      what: `${Number(target.toPrecision(4))} mg/L in a tank is more than any method asks for and eats seals.`,
      where: 'target',
      expected: 'up to 200 mg/L; 50 mg/L is the usual target',
    });
  const hours = holdHours(target * LAST_BIT);
  if (hours === null)
    return fail({
      code: 'water.too-weak',
      what: `${Number(target.toPrecision(4))} mg/L sanitizes no tank by any published method.`,
      where: 'target',
      expected: '10 mg/L at least, for 24 hours; 50 mg/L for 4 hours is the usual target',
    });
  const millilitres = (target * valueIn(input.volume, 'L')) / (valueIn(input.strength, 'ratio') * 1000);
  return ok({
    dose:
      systemOf(input.volume.unit) === 'metric'
        ? quantity(millilitres, 'mL')
        : quantity(valueIn(quantity(millilitres, 'mL'), 'floz'), 'floz'),
    hold: quantity(hours, 'h'),
    limitedBy: 'the strength as sold: old bleach is weaker',
    cautions: [...(valueIn(input.strength, 'ratio') > HOUSEHOLD_MOST * LAST_BIT ? [STRONG] : []), ...CAUTIONS],
  });
}

export type BleachVerdict = 'sanitizes' | 'too-weak' | 'too-strong';
export const BLEACH_VERDICTS = ['sanitizes', 'too-weak', 'too-strong'] as const;

export interface BleachConcentration {
  /** Without counting the dose's own volume, as handbooks reckon. */
  readonly concentration: Quantity;
  /** Counting it. */
  readonly concentrationMixed: Quantity;
  /** Within the published methods, as handbooks reckon. */
  readonly verdict: BleachVerdict;
  /** How long it must stand; null where it sanitizes nothing or is drained. */
  readonly hold: Quantity | null;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** @example 1/4 cup of 6 % in 15 gal → 62.5 mg/L */
export function bleachConcentration(input: {
  readonly dose: Quantity;
  readonly volume: Quantity;
  readonly strength: Quantity;
}): Result<BleachConcentration> {
  const wrong =
    strengthProblem(input.strength) ??
    positiveProblem(input.dose, 'L', 'dose') ??
    positiveProblem(input.volume, 'L', 'volume');
  if (wrong !== null) return fail(wrong);
  const [dose, volume] = [valueIn(input.dose, 'L'), valueIn(input.volume, 'L')];
  const milligrams = dose * valueIn(input.strength, 'ratio') * 1_000_000;
  const concentration = milligrams / volume;
  const mixed = milligrams / (volume + dose);
  const hours = holdHours(concentration * LAST_BIT);
  const verdict: BleachVerdict =
    concentration > STRONGEST * LAST_BIT ? 'too-strong' : hours === null ? 'too-weak' : 'sanitizes';
  const cautions =
    verdict === 'too-strong'
      ? ['Over 200 mg/L: it eats seals. Drain it and begin again.']
      : verdict === 'too-weak'
        ? ['Under 10 mg/L: no published method sanitizes a tank with it. Add more.']
        : hours === 24
          ? ['Under 50 mg/L: four hours are not enough; 24.']
          : [];
  return ok({
    concentration: quantity(concentration, 'mg/L'),
    concentrationMixed: quantity(mixed, 'mg/L'),
    verdict,
    hold: verdict !== 'sanitizes' || hours === null ? null : quantity(hours, 'h'),
    limitedBy: 'the strength as sold: old bleach is weaker',
    cautions: [
      ...cautions,
      ...(valueIn(input.strength, 'ratio') > HOUSEHOLD_MOST * LAST_BIT ? [STRONG] : []),
      ...CAUTIONS,
    ],
  });
}

/** Milligram-minutes a litre: what concentration and time come to together. */
export function contact(concentration: Quantity, time: Quantity): number {
  return valueIn(concentration, 'mg/L') * valueIn(time, 'min');
}
