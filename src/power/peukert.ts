/**
 * `peukert` and `battery-days`: how long a battery lasts.
 *
 * Source: Peukert (1897). Two forms, kept apart: with the rated time H, t = H·(C/(I·H))^k; with the one-ampere capacity,
 * t = C₁/I^k. Exponents from memory: flooded 1.2 to 1.3, AGM 1.05 to 1.15, LiFePO4 1.01 to 1.05.
 */

import { power } from '../elementary/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';

export interface Peukert {
  readonly time: Quantity;
  /** What it gives at that current before it is empty. */
  readonly charge: Quantity;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const RATED_TIME = quantity(20, 'h');

/**
 * @param input.capacity rated at `ratedTime`, or at one ampere where `form` is `one-ampere`
 * @param input.ratedTime 20 h where not given, and said so
 * @example 100 Ah at 20 h, k 1.2, 10 A → 8.7055 h, 87.055 Ah
 */
export function peukert(input: {
  readonly capacity: Quantity;
  readonly current: Quantity;
  readonly exponent: number;
  readonly ratedTime?: Quantity | undefined;
  readonly form?: 'rated' | 'one-ampere' | undefined;
}): Result<Peukert> {
  const capacity = valueIn(input.capacity, 'Ah');
  const current = valueIn(input.current, 'A');
  const ratedTime = valueIn(input.ratedTime ?? RATED_TIME, 'h');
  if (capacity <= 0 || current <= 0 || ratedTime <= 0) {
    return fail({
      code: 'power.battery',
      what: 'Capacity, current and rated time are above zero.',
      where: capacity <= 0 ? 'capacity' : current <= 0 ? 'current' : 'ratedTime',
      expected: 'a value above zero',
    });
  }
  if (!(input.exponent >= 1 && input.exponent <= 2)) {
    return fail({
      code: 'power.peukert-exponent',
      what: `${input.exponent} is no exponent of a battery: 1 is a perfect one, 1.6 a worn one.`,
      where: 'exponent',
      expected: 'a number from 1 to 2',
    });
  }
  const oneAmpere = input.form === 'one-ampere';
  const hours = oneAmpere
    ? capacity / power(current, input.exponent)
    : ratedTime * power(capacity / (current * ratedTime), input.exponent);
  const ratedCurrent = oneAmpere ? 1 : capacity / ratedTime;
  const cautions = ['A lead-acid battery used below half its charge ages fast; plan with half of this.'];
  if (current < ratedCurrent / 2)
    cautions.push('Far below the rated current the law promises more than a battery gives.');
  return ok({
    time: quantity(hours, 'h'),
    charge: quantity(hours * current, 'Ah'),
    limitedBy: 'the current',
    assumed: oneAmpere || input.ratedTime !== undefined ? [] : ['ratedTime: 20 h'],
    cautions,
  });
}

export interface BatteryDays {
  /** Ampere-hours the loads take in a day. */
  readonly drawADay: Quantity;
  readonly solarADay: Quantity;
  /** Days until the floor; null where the sun gives as much as is drawn. */
  readonly days: Quantity | null;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/** Share of a panel's rated power that reaches the battery of a flat roof: 0.70 to 0.75 (from memory). */
const SOLAR_SHARE = 0.7;

/**
 * `battery-days`: the day's loads against what the battery holds above its floor, and the sun.
 *
 * @param input.floor the charge not to go below; 50 % for lead-acid is usual
 * @param input.panel rated power of the panels; with `sunHours` of full sun a day
 */
export function batteryDays(input: {
  readonly capacity: Quantity;
  readonly stateOfCharge: Quantity;
  readonly floor: Quantity;
  readonly loads: readonly { readonly what: string; readonly current: Quantity; readonly time: Quantity }[];
  readonly panel?: Quantity | undefined;
  readonly sunHours?: Quantity | undefined;
  readonly derate?: Quantity | undefined;
}): Result<BatteryDays> {
  const [soc, floor] = [valueIn(input.stateOfCharge, 'ratio'), valueIn(input.floor, 'ratio')];
  if (soc < 0 || soc > 1 || floor < 0 || floor > 1)
    return fail({
      code: 'power.charge',
      what: 'A charge is a share from 0 to 100 %.',
      where: soc < 0 || soc > 1 ? 'stateOfCharge' : 'floor',
      expected: 'a share from 0 to 100 %',
    });
  const wrong = input.loads.findIndex(
    (load) => valueIn(load.current, 'A') < 0 || valueIn(load.time, 'h') < 0 || valueIn(load.time, 'h') > 24,
  );
  if (wrong >= 0)
    return fail({
      code: 'power.load',
      what: `${input.loads[wrong]!.what}: a load draws something for at most 24 h a day.`,
      where: `loads.${wrong}`,
      expected: 'a current and hours a day',
    });
  const usable = valueIn(input.capacity, 'Ah') * Math.max(0, soc - floor);
  const draw = input.loads.reduce((sum, load) => sum + valueIn(load.current, 'A') * valueIn(load.time, 'h'), 0);
  const derate = input.derate === undefined ? SOLAR_SHARE : valueIn(input.derate, 'ratio');
  const solar =
    input.panel === undefined || input.sunHours === undefined
      ? 0
      : (valueIn(input.panel, 'W') * valueIn(input.sunHours, 'h') * derate) / 12;
  const net = draw - solar;
  return ok({
    drawADay: quantity(draw, 'Ah'),
    solarADay: quantity(solar, 'Ah'),
    days: net <= 0 ? null : quantity(usable / net, 'd'),
    limitedBy: net <= 0 ? 'nothing: the sun gives as much as is drawn' : 'the charge above the floor',
    assumed: solar > 0 && input.derate === undefined ? ['derate: 70 % of the panel’s rating reaches the battery'] : [],
    cautions: ['Keep what the breakaway brakes need: they run from this battery.'],
  });
}

/** Energy a panel gives in a day: rating · hours of full sun · derate. */
export function solarDay(panel: Quantity, sunHours: Quantity, derate: Quantity): Quantity {
  return quantity(valueIn(panel, 'W') * valueIn(sunHours, 'h') * valueIn(derate, 'ratio'), 'Wh');
}
