/**
 * `inflate`: free air, time and work to raise a tire's pressure, and whether the outlet holds the compressor.
 *
 * Physics: a tire of constant volume V needs V·(p₂ − p₁)/p_air of free air; a compressor is rated by the free air it delivers
 * in a minute. Work of an ideal single-stage compressor, a m³ of free air: adiabatic 3.5·p_air·(r^(2/7) − 1), isothermal
 * p_air·ln r, with r = (p₂ + p_air)/p_air. Real compressors need more, so the work is a lower bound at the highest pressure.
 */

import { log, power } from '../elementary/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { atmosphere, convertLike, formatQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';

export interface Inflate {
  /** Free air for all tires together. */
  readonly freeAir: Quantity;
  readonly time: Quantity;
  /** Ideal adiabatic work of compressing that air to the end pressure. */
  readonly work: Quantity;
  /** Mean shaft power over the time. */
  readonly powerIdeal: Quantity;
  /** Whether the outlet holds running and starting power; null where that was not asked. */
  readonly outletHolds: boolean | null;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/** Ideal work to compress a m³ of free air to a gauge pressure, joules; both in pascal. */
export function compressionWork(gaugePascal: number, airPascal: number, model: 'adiabatic' | 'isothermal'): number {
  const r = (gaugePascal + airPascal) / airPascal;
  return model === 'isothermal' ? airPascal * log(r) : 3.5 * airPascal * (power(r, 2 / 7) - 1);
}

/** Free air a receiver of known volume takes from one gauge pressure to another, divided by the time: what a compressor delivers. */
export function freeAirDelivery(input: {
  readonly receiver: Quantity;
  readonly from: Quantity;
  readonly to: Quantity;
  readonly time: Quantity;
}): Result<Quantity> {
  const rise = valueIn(input.to, 'Pa') - valueIn(input.from, 'Pa');
  if (rise <= 0 || valueIn(input.time, 'min') <= 0) {
    return fail({
      code: 'inflate.pump-up',
      what: 'The receiver must rise in pressure over some time.',
      where: 'to',
      expected: 'a higher end pressure and a time above zero',
    });
  }
  const cubicMetres = (valueIn(input.receiver, 'm3') * rise) / 101_325;
  const cfm = valueIn(quantity(cubicMetres, 'm3'), 'ft3') / valueIn(input.time, 'min');
  return ok(convertLike(quantity(cfm, 'ft3/min'), input.receiver));
}

/**
 * Time and work to inflate.
 *
 * @param input.volume inside volume of one tire (a trailer tire of 225/75R15 holds about 2.3 ft³: an assumption, no source)
 * @param input.delivery free-air delivery of the compressor, not its displacement
 * @param input.tires how many such tires, one after another
 * @example 2.3 ft³ from 50 to 65 psi at 1.5 ft³/min → 2.35 ft³ of free air, 1.57 min
 */
export function inflate(input: {
  readonly volume: Quantity;
  readonly from: Quantity;
  readonly to: Quantity;
  readonly delivery: Quantity;
  readonly tires?: number | undefined;
  readonly elevation?: Quantity | undefined;
  readonly powerRunning?: Quantity | undefined;
  readonly powerStarting?: Quantity | undefined;
  readonly outletContinuous?: Quantity | undefined;
  readonly outletStarting?: Quantity | undefined;
}): Result<Inflate> {
  const air = atmosphere(input.elevation ?? quantity(0, 'ft'));
  if (!air.ok) return fail({ ...air.problems[0]!, where: 'elevation' });
  const airPa = valueIn(air.value, 'Pa');
  const [from, to] = [valueIn(input.from, 'Pa'), valueIn(input.to, 'Pa')];
  if (from < 0 || to <= from) {
    return fail({
      code: 'inflate.pressures',
      what: 'To inflate is to go from a gauge pressure of zero or more to a higher one.',
      where: 'to',
      expected: 'an end pressure above the start',
    });
  }
  const delivery = valueIn(input.delivery, 'ft3/min');
  if (delivery <= 0 || valueIn(input.volume, 'm3') <= 0) {
    return fail({
      code: 'inflate.delivery',
      what: 'Volume and free-air delivery are above zero.',
      where: delivery <= 0 ? 'delivery' : 'volume',
    });
  }
  const tires = input.tires ?? 1;
  const freeM3 = (tires * valueIn(input.volume, 'm3') * (to - from)) / airPa;
  const freeFt3 = valueIn(quantity(freeM3, 'm3'), 'ft3');
  const minutes = freeFt3 / delivery;
  const joules = freeM3 * compressionWork(to, airPa, 'adiabatic');
  const watts = joules / (minutes * 60);
  const outlet = outletCheck(input, watts);
  return ok({
    freeAir: convertLike(quantity(freeFt3, 'ft3'), input.volume),
    time: quantity(minutes, 'min'),
    work: quantity(joules / 1000, 'kJ'),
    powerIdeal: quantity(watts, 'W'),
    ...outlet,
    assumed: input.elevation === undefined ? ['elevation: sea level'] : [],
    cautions: [
      'Inflate from beside the tread, with a clip-on chuck; never above the sidewall, wheel or valve maximum.',
      ...outlet.cautions,
    ],
  });
}

/** Running and starting power against what an outlet gives: both limits hold on their own. */
function outletCheck(
  input: {
    readonly powerRunning?: Quantity | undefined;
    readonly powerStarting?: Quantity | undefined;
    readonly outletContinuous?: Quantity | undefined;
    readonly outletStarting?: Quantity | undefined;
  },
  idealWatts: number,
): { outletHolds: boolean | null; limitedBy: string; cautions: string[] } {
  const { powerRunning, powerStarting, outletContinuous, outletStarting } = input;
  const base = 'the compressor’s free-air delivery';
  if (outletContinuous === undefined) return { outletHolds: null, limitedBy: base, cautions: [] };
  const continuous = valueIn(outletContinuous, 'W');
  const running = powerRunning === undefined ? idealWatts : valueIn(powerRunning, 'W');
  const starting = powerStarting === undefined ? null : valueIn(powerStarting, 'W');
  const startLimit = outletStarting === undefined ? continuous : valueIn(outletStarting, 'W');
  if (running > continuous) {
    return {
      outletHolds: false,
      limitedBy: 'the outlet’s continuous limit',
      cautions: [
        `It runs at ${formatQuantity(quantity(running, 'W'))} and the outlet gives ${formatQuantity(outletContinuous)}.`,
      ],
    };
  }
  if (starting !== null && starting > startLimit) {
    return {
      outletHolds: false,
      limitedBy: 'the outlet’s starting limit',
      cautions: ['It would run, but the outlet cannot start it.'],
    };
  }
  if (powerRunning === undefined || starting === null) {
    return {
      outletHolds: null,
      limitedBy: base,
      cautions: ['Running and starting power of the compressor are both needed to say whether the outlet holds.'],
    };
  }
  return { outletHolds: true, limitedBy: base, cautions: [] };
}
