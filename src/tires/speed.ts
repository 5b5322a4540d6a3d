/** `tire-speed`: how fast a tire may turn, and what a higher speed asks for. */

import { fail, ok, type Result } from '../problem/index.ts';
import {
  compare,
  convert,
  convertLike,
  formatQuantity,
  type Quantity,
  quantity,
  rangeProblem,
  valueIn,
} from '../quantity/index.ts';
import type { TireFamily } from './families.ts';
import { ST_MPH } from './limits.ts';
import { COLD_PRESSURE, ROAD_SPEED } from './ranges.ts';
import { speedSymbolKmh } from './tables/index-and-symbol.ts';

export interface TireSpeed {
  readonly allowed: boolean;
  /** The highest speed for this load and pressure. */
  readonly limit: Quantity;
  /** Cold pressure to set for the speed asked for. */
  readonly pressure: Quantity;
  /** Share of the table's load that counts at that speed. */
  readonly loadShare: number;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** To 75 mph: 10 psi more, no extra load (Tire and Rim Association ST-M1, a tire maker's bulletin of 2011). */
const ST_MPH_PRESSURE = 75;
/** To 85 mph: 10 psi more and 10 % less load, only where the symbol allows (the association, as posted by a tire engineer). */
const ST_MPH_LOAD = 85;
/** No public road of the United States allows more (Texas, from memory): no answer is above it, whatever the symbol. */
const POSTED_MPH = 85;
const EXTRA_PSI = 10;
const LOAD_SHARE_FAST = 0.9;

/** The speed of a symbol, km/h, or a Problem. */
export function symbolSpeed(symbol: string): Result<Quantity> {
  const kmh = speedSymbolKmh[symbol.trim().toUpperCase()];
  if (kmh !== undefined) return ok(quantity(kmh, 'km/h'));
  return fail({
    code: 'tire.speed-symbol',
    what: `\`${symbol}\` is no speed symbol.`,
    where: 'speedSymbol',
    expected: `one of ${Object.keys(speedSymbolKmh).join(' ')}`,
  });
}

/**
 * What a speed asks of a tire. An ST tire without a symbol is rated at 65 mph; up to 75 mph it needs 10 psi more than its
 * load needs, and beyond, where its symbol allows, it also carries 10 % less. Never above what wheel, valve and sidewall hold.
 *
 * @param input.pressure the cold pressure the load needs
 * @param input.pressureMax the lowest of the sidewall's, the wheel's and the valve's maximum
 */
export function tireSpeed(input: {
  readonly family: TireFamily;
  readonly speed: Quantity;
  readonly speedSymbol?: string | undefined;
  readonly pressure: Quantity;
  readonly pressureMax: Quantity;
}): Result<TireSpeed> {
  const wrong = rangeProblem([
    ['speed', input.speed, ROAD_SPEED],
    ['pressure', input.pressure, COLD_PRESSURE],
    ['pressureMax', input.pressureMax, COLD_PRESSURE],
  ]);
  if (wrong !== null) return fail(wrong);
  if (valueIn(input.speed, 'mph') <= 0) {
    return fail({
      code: 'tire.speed',
      what: 'A speed is above zero.',
      where: 'speed',
      expected: 'the highest speed of the trip',
    });
  }
  if (valueIn(input.pressure, 'psi') <= 0 || valueIn(input.pressureMax, 'psi') <= 0) {
    return fail({
      code: 'tire.gauge',
      what: 'A tire in use is above the air outside: pressures are above zero.',
      where: valueIn(input.pressure, 'psi') <= 0 ? 'pressure' : 'pressureMax',
      expected: 'a cold gauge pressure',
    });
  }
  if (valueIn(input.pressure, 'psi') > valueIn(input.pressureMax, 'psi') * (1 + 1e-9)) {
    return fail({
      code: 'tire.pressure-above-max',
      what: `${formatQuantity(input.pressure)} is more than wheel, valve and sidewall hold (${formatQuantity(input.pressureMax)}).`,
      where: 'pressure',
      expected: 'the cold pressure the load needs, at most that',
      next: 'A load that needs more than the tire holds is an overload at any speed: take it off.',
    });
  }
  const symbol = input.speedSymbol === undefined ? null : symbolSpeed(input.speedSymbol);
  if (symbol !== null && !symbol.ok) return symbol;
  const symbolLimit = symbol === null ? null : convertLike(symbol.value, input.speed);
  const mph = valueIn(input.speed, 'mph');
  if (symbolLimit === null && input.family !== 'ST') {
    return fail({
      code: 'tire.speed-symbol-missing',
      what: `A ${input.family} tire is rated by its speed symbol, and none was given.`,
      where: 'speedSymbol',
      expected: 'the letter after the load index, such as the N of 117/112 N',
    });
  }
  const extra = convert(quantity(valueIn(input.pressure, 'psi') + EXTRA_PSI, 'psi'), input.pressure.unit);
  const room = compare(extra, input.pressureMax) <= 0;
  const asked = (value: number) => convertLike(quantity(value, 'mph'), input.speed);
  // Highest speed of an ST tire by the association's rule: pressure first, then load.
  const ruleMph =
    input.family === 'ST' ? (room ? (symbolLimit === null ? ST_MPH_PRESSURE : ST_MPH_LOAD) : ST_MPH) : POSTED_MPH;
  const bySymbol = symbolLimit !== null && valueIn(symbolLimit, 'mph') <= ruleMph;
  const limit = bySymbol ? symbolLimit : asked(ruleMph);
  const fast = input.family === 'ST' && mph > ST_MPH;
  const cautions = ['The lowest of the posted limit, the handbook’s limit and this holds.'];
  if (fast && room)
    cautions.push(
      `Above 65 mph an ST tire needs ${formatQuantity(extra, { digits: 0 })}; the extra pressure carries no extra load.`,
    );
  if (fast && !room) cautions.push('Wheel, valve or sidewall do not hold the extra pressure: stay at 65 mph.');
  return ok({
    allowed: mph <= valueIn(limit, 'mph') * (1 + 1e-9),
    limit,
    pressure: fast && room ? extra : input.pressure,
    loadShare: input.family === 'ST' && mph > ST_MPH_PRESSURE ? LOAD_SHARE_FAST : 1,
    limitedBy: bySymbol
      ? 'the speed symbol'
      : input.family !== 'ST'
        ? 'the highest speed of any public road'
        : room
          ? 'the ST speed rule'
          : 'the highest pressure of wheel, valve and sidewall',
    cautions,
  });
}
