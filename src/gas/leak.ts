/**
 * `leak-drop`: from the drop of a manometer to the size of the leak.
 *
 * Physics: a closed volume V that loses ΔP in t leaks V·ΔP/(air·t) of free gas, at constant temperature. Pass criteria: no drop
 * at all (Washington WAC 296-150C-1460: 10 to 14 in. w.c. for 10 minutes with appliances connected; WAC 296-150V-1450: 10 psi
 * for 15 minutes before them; the method of NFPA 54 annex C at 9 in. w.c.).
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { atmosphere, convertLike, type Quantity, quantity, systemOf, valueIn } from '../quantity/index.ts';
import { PROPANE_BTU_A_CUBIC_FOOT } from './propane.ts';

export interface LeakDrop {
  /** True only where nothing was lost. */
  readonly passed: boolean;
  readonly leak: Quantity;
  /** The same as heat, if the gas is propane. */
  readonly heat: Quantity;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * @param input.volume inside volume of the piping under test (100 ft of 3/8 in tube is about 0.1 ft³)
 * @param input.drop pressure lost; zero where it held
 * @example 0.05 ft³, 1 in. w.c. in 3 min → 0.00246 ft³/h, 6.12 BTU/h
 */
export function leakDrop(input: {
  readonly volume: Quantity;
  readonly drop: Quantity;
  readonly time: Quantity;
  readonly elevation?: Quantity | undefined;
}): Result<LeakDrop> {
  const volume = valueIn(input.volume, 'ft3');
  const hours = valueIn(input.time, 'h');
  const drop = valueIn(input.drop, 'Pa');
  if (volume <= 0 || hours <= 0)
    return fail({
      code: 'gas.leak-test',
      what: 'A test has a volume and takes time.',
      where: volume <= 0 ? 'volume' : 'time',
      expected: 'a value above zero',
    });
  if (drop < 0) {
    return fail({
      code: 'gas.leak-rise',
      what: 'The pressure rose.',
      where: 'drop',
      expected: 'a drop of zero or more',
      next: 'A rise means the cylinder valve leaks by, or the pipe warmed up. Shut the valve, wait, test again.',
    });
  }
  const air = atmosphere(input.elevation ?? quantity(0, 'ft'));
  if (!air.ok) return fail({ ...air.problems[0]!, where: 'elevation' });
  const cubicFeetAnHour = (volume * drop) / (valueIn(air.value, 'Pa') * hours);
  const passed = drop === 0;
  const btu = quantity(cubicFeetAnHour * PROPANE_BTU_A_CUBIC_FOOT, 'BTU/h');
  return ok({
    passed,
    leak: convertLike(quantity(cubicFeetAnHour, 'ft3/h'), input.volume),
    heat: systemOf(input.volume.unit) === 'metric' ? quantity(valueIn(btu, 'W'), 'W') : btu,
    limitedBy: 'the smallest drop the gauge shows',
    assumed: input.elevation === undefined ? ['elevation: sea level'] : [],
    cautions: passed
      ? ['Air and pipe must be at one temperature, burners and pilots off.']
      : [
          'It leaks. However small: shut the cylinders, air the trailer, no flame, no switch; find it with leak fluid free of ammonia, or call a gas fitter.',
          'Do not use the gas until the test holds.',
        ],
  });
}
