/**
 * `bleach-dose` and `bleach-concentration`: sanitizing a fresh-water system.
 *
 * Arithmetic: a product of s per cent holds s·10 grams in a litre, as sold (weight by volume; the label's figure is taken so).
 * Sources: at least 50 mg/L held for 4 hours (CDC Vessel Sanitation Program manual 5.3.4.1.4); 1/4 cup in 15 gallons, 4 hours
 * (a trailer handbook); ANSI/AWWA C652 method 1: 10 mg/L for 6 to 24 hours.
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
  'Dilute it in a gallon first, run every tap until it smells, then drain and flush until it does not. Bypass filters.',
] as const;

/** Strength of household products as sold, weight of chlorine by volume: 1 to 13 %. */
function strengthProblem(strength: Quantity) {
  const share = valueIn(strength, 'ratio');
  if (share >= 0.01 && share <= 0.13) return null;
  return {
    code: 'water.strength',
    what: 'Household bleach is sold at 5 to 9 %; nothing sold as bleach is outside 1 to 13 %.',
    where: 'strength',
    expected: 'the per cent of sodium hypochlorite on the label, such as 6 % or 8.25 %',
  };
}

function positiveProblem(q: Quantity, unit: 'mg/L' | 'L', where: string) {
  return valueIn(q, unit) > 0
    ? null
    : { code: 'water.amount', what: 'There must be some of it.', where, expected: 'a value above zero' };
}

/** Hours to stand at a concentration, by the published pairs; null under the lowest of them. */
function holdHours(milligrams: number): number | null {
  if (milligrams >= 50) return 4;
  return milligrams >= 10 ? 24 : null;
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
  if (target > 200)
    return fail({
      code: 'water.too-strong',
      what: `${target} mg/L in a tank is more than any method asks for and eats seals.`,
      where: 'target',
      expected: 'up to 200 mg/L; 50 mg/L is the usual target',
    });
  const millilitres = (target * valueIn(input.volume, 'L')) / (valueIn(input.strength, 'ratio') * 1000);
  const hours = holdHours(target);
  return ok({
    dose:
      systemOf(input.volume.unit) === 'metric'
        ? quantity(millilitres, 'mL')
        : quantity(valueIn(quantity(millilitres, 'mL'), 'floz'), 'floz'),
    hold: quantity(hours ?? 24, 'h'),
    limitedBy: 'the strength as sold: old bleach is weaker',
    cautions: hours === null ? ['Under 10 mg/L no published method sanitizes a tank.', ...CAUTIONS] : [...CAUTIONS],
  });
}

export interface BleachConcentration {
  /** Without counting the dose's own volume, as handbooks reckon. */
  readonly concentration: Quantity;
  /** Counting it. */
  readonly concentrationMixed: Quantity;
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
  const cautions =
    concentration < 50
      ? ['Under 50 mg/L: four hours are not enough.']
      : concentration > 200
        ? ['Over 200 mg/L: drain it and begin again.']
        : [];
  return ok({
    concentration: quantity(concentration, 'mg/L'),
    concentrationMixed: quantity(milligrams / (volume + dose), 'mg/L'),
    limitedBy: 'the strength as sold: old bleach is weaker',
    cautions: [...cautions, ...CAUTIONS],
  });
}

/** Milligram-minutes a litre: what concentration and time come to together. */
export function contact(concentration: Quantity, time: Quantity): number {
  return valueIn(concentration, 'mg/L') * valueIn(time, 'min');
}
