/**
 * `heater-time`: how long a water heater takes.
 *
 * Physics: a BTU raises a pound of water by 1 °F; a gallon weighs 8.33 lb (handbook figure).
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convertLike, type Quantity, quantity, valueIn } from '../quantity/index.ts';

const WATER_LB_A_GALLON = 8.33;
/** Under the 210 °F of the relief valve with room to spare (common practice, no source). */
const HOTTEST_FAHRENHEIT = 180;
const SCALD_FAHRENHEIT = 140;

export interface HeaterTime {
  readonly energy: Quantity;
  readonly time: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** @example 6 gal from 60 to 140 °F at 12,000 BTU/h and 75 % → 3,998 BTU, 26.7 min */
export function heaterTime(input: {
  readonly volume: Quantity;
  readonly from: Quantity;
  readonly to: Quantity;
  readonly power: Quantity;
  readonly efficiency: Quantity;
}): Result<HeaterTime> {
  const rise = valueIn(input.to, 'degF') - valueIn(input.from, 'degF');
  const gallons = valueIn(input.volume, 'gal');
  const power = valueIn(input.power, 'BTU/h');
  const efficiency = valueIn(input.efficiency, 'ratio');
  if (!(rise > 0 && valueIn(input.from, 'degF') >= 32 && valueIn(input.to, 'degF') <= HOTTEST_FAHRENHEIT)) {
    return fail({
      code: 'water.heater-temperature',
      what: 'A heater warms water, from above freezing to below where its limit opens.',
      where: valueIn(input.from, 'degF') < 32 ? 'from' : 'to',
      expected: 'such as 60 °F to 140 °F',
    });
  }
  if (!(gallons > 0) || !(power > 0) || !(efficiency > 0 && efficiency <= 1)) {
    return fail({
      code: 'water.heater',
      what: 'Volume and power are above zero, efficiency between 0 and 100 %.',
      where: !(gallons > 0) ? 'volume' : !(power > 0) ? 'power' : 'efficiency',
      expected: 'such as 6 gal, 12,000 BTU/h, 75 %',
    });
  }
  const btu = gallons * WATER_LB_A_GALLON * rise;
  return ok({
    energy: convertLike(quantity(btu, 'BTU'), input.volume),
    time: quantity((60 * btu) / (power * efficiency), 'min'),
    limitedBy: 'the heater’s power',
    cautions: [
      ...(valueIn(input.to, 'degF') > SCALD_FAHRENHEIT ? ['It scalds at once: mix it before it is used.'] : []),
      'Never heat an empty tank. Water at 140 °F scalds in seconds.',
    ],
  });
}
