/**
 * `battery-days`: the day's loads against what the battery holds above its floor, and the sun.
 *
 * The share of a panel's rated power that reaches the battery of a flat roof is 0.70 to 0.75 (from memory): the lower is taken.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';

export interface BatteryDays {
  /** Ampere-hours the loads take in a day. */
  readonly drawADay: Quantity;
  readonly solarADay: Quantity;
  /** Days until the floor; null where the sun gives as much as is drawn. */
  readonly days: Quantity | null;
  /** The same without any sun; null where nothing is drawn. */
  readonly daysWithoutSun: Quantity | null;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const SOLAR_SHARE = 0.7;
/** Ampere-hours are counted at the nominal voltage, as those of the loads are. */
const NOMINAL_VOLTS = 12;
/** Self-discharge empties a battery in about this, whatever it feeds (a battery maker: 5 % a month). */
const DAYS_MOST = 365;

/**
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
  const share = (value: number) => value >= 0 && value <= 1;
  if (!share(soc) || !share(floor))
    return fail({
      code: 'power.charge',
      what: 'A charge is a share from 0 to 100 %.',
      where: share(soc) ? 'floor' : 'stateOfCharge',
      expected: 'a share from 0 to 100 %',
    });
  const wrong = input.loads.findIndex(
    (load) => !(valueIn(load.current, 'A') >= 0) || !(valueIn(load.time, 'h') >= 0 && valueIn(load.time, 'h') <= 24),
  );
  if (wrong >= 0)
    return fail({
      code: 'power.load',
      what: `${input.loads[wrong]!.what}: a load draws something for at most 24 h a day.`,
      where: `loads.${wrong}`,
      expected: 'a current and hours a day',
    });
  if ((input.panel === undefined) !== (input.sunHours === undefined))
    return fail({
      code: 'power.sun',
      what: 'Sun is counted by the panel’s rating and the hours of full sun.',
      where: input.panel === undefined ? 'panel' : 'sunHours',
      expected: 'both, or neither',
    });
  const usable = valueIn(input.capacity, 'Ah') * Math.max(0, soc - floor);
  const draw = input.loads.reduce((sum, load) => sum + valueIn(load.current, 'A') * valueIn(load.time, 'h'), 0);
  const derate = input.derate === undefined ? SOLAR_SHARE : valueIn(input.derate, 'ratio');
  const solar =
    input.panel === undefined || input.sunHours === undefined
      ? 0
      : valueIn(solarDay(input.panel, input.sunHours, quantity(derate, 'ratio')), 'Wh') / NOMINAL_VOLTS;
  const net = draw - solar;
  const days = (ampereHours: number) => quantity(Math.min(DAYS_MOST, usable / ampereHours), 'd');
  return ok({
    drawADay: quantity(draw, 'Ah'),
    solarADay: quantity(solar, 'Ah'),
    days: net <= 0 ? null : days(net),
    daysWithoutSun: draw === 0 ? null : days(draw),
    limitedBy: net <= 0 ? 'nothing: the sun gives as much as is drawn' : 'the charge above the floor',
    assumed: solar > 0 && input.derate === undefined ? ['derate: 70 % of the panel’s rating reaches the battery'] : [],
    cautions: [
      ...(solar > 0 ? ['Cloud, shade, snow and a low sun take most of it: count on the days without sun.'] : []),
      ...(floor < 0.5 ? ['A lead-acid battery used below half its charge ages fast.'] : []),
      'Keep what the breakaway brakes need where they run from this battery. Cold and old batteries hold less than their nameplate.',
    ],
  });
}

/** Energy a panel gives in a day: rating · hours of full sun · derate. */
export function solarDay(panel: Quantity, sunHours: Quantity, derate: Quantity): Quantity {
  return quantity(valueIn(panel, 'W') * valueIn(sunHours, 'h') * valueIn(derate, 'ratio'), 'Wh');
}
