/**
 * `inflate`: free air, time with rests and work to raise a tire's pressure, and whether the outlet holds the compressor.
 *
 * Physics: a tire of constant volume V needs V·(p₂ − p₁)/p_air of free air; a compressor is rated by the free air it delivers
 * in a minute. Work of an ideal single-stage compressor, a m³ of free air: adiabatic 3.5·p_air·(r^(2/7) − 1), isothermal
 * p_air·ln r, with r = (p₂ + p_air)/p_air. Real compressors need more, so the work is a lower bound at the highest pressure.
 *
 * Duty cycle: a share d of the time running and the rest standing to cool. A compressor without one on its label is a small one; how long
 * it may run is then unknown.
 */

import { log, power } from '../elementary/index.ts';
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import {
  atmosphere,
  compare,
  convertLike,
  formatQuantity,
  type Quantity,
  quantity,
  rangeProblem,
  valueIn,
} from '../quantity/index.ts';
import { RUN_LOW_SHARE } from './limits.ts';
import { type OutletAnswer, outletAnswer, type Powers, powersProblem } from './outlet.ts';
import {
  AIR_DELIVERY,
  COLD_PRESSURE,
  COMPRESSOR_POWER,
  DUTY_CYCLE,
  PUMPING_TIME,
  RECEIVER_PRESSURE,
  RECEIVER_VOLUME,
  TIRE_VOLUME,
} from './ranges.ts';

export interface Inflate {
  /** Free air for all tires together. */
  readonly freeAir: Quantity;
  /** Running time. */
  readonly time: Quantity;
  /** Running and resting time together; null where the duty cycle is not known. */
  readonly timeWithRests: Quantity | null;
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

/** A gauge off by 2 psi and a watch off by 1 s leave a tenth of doubt at these (our own choice). */
const RISE_LEAST_PSI = 20;
const TIME_LEAST_S = 10;

/** Free air a receiver of known volume takes from one gauge pressure to another, divided by the time: what a compressor delivers. */
export function freeAirDelivery(input: {
  readonly receiver: Quantity;
  readonly from: Quantity;
  readonly to: Quantity;
  readonly time: Quantity;
}): Result<Quantity> {
  const wrong = rangeProblem([
    ['receiver', input.receiver, RECEIVER_VOLUME],
    ['from', input.from, RECEIVER_PRESSURE],
    ['to', input.to, RECEIVER_PRESSURE],
    ['time', input.time, PUMPING_TIME],
  ]);
  if (wrong !== null) return fail(wrong);
  const rise = valueIn(input.to, 'Pa') - valueIn(input.from, 'Pa');
  if (
    valueIn(input.to, 'psi') - valueIn(input.from, 'psi') < RISE_LEAST_PSI ||
    valueIn(input.time, 's') < TIME_LEAST_S
  ) {
    return fail({
      code: 'inflate.pump-up',
      what: 'Too little rise or too short a time to tell anything: watch and gauge are off by more.',
      where: 'to',
      expected: `an end pressure at least ${RISE_LEAST_PSI} psi higher, over at least ${TIME_LEAST_S} s`,
    });
  }
  const cubicMetres = (valueIn(input.receiver, 'm3') * rise) / 101_325;
  const cfm = valueIn(quantity(cubicMetres, 'm3'), 'ft3') / valueIn(input.time, 'min');
  return ok(convertLike(quantity(cfm, 'ft3/min'), input.receiver));
}

export interface InflateInput extends Powers {
  /** Inside volume of one tire (a trailer tire of 225/75R15 holds about 2.3 ft³: an assumption, no source). */
  readonly volume: Quantity;
  readonly from: Quantity;
  readonly to: Quantity;
  /** The lowest of the sidewall's, the wheel's and the valve's maximum. */
  readonly pressureMax?: Quantity | undefined;
  /** Free-air delivery of the compressor at the end pressure, not its displacement. */
  readonly delivery: Quantity;
  /** How many such tires, one after another. */
  readonly tires?: number | undefined;
  readonly elevation?: Quantity | undefined;
  /** Share of the time that the compressor may run. */
  readonly dutyCycle?: Quantity | undefined;
  /** The longest it may run without a rest, cold. */
  readonly runMax?: Quantity | undefined;
}

/** The first figure that cannot be, or null. */
function inputProblem(input: InflateInput): Problem | null {
  const wrong = rangeProblem([
    ['volume', input.volume, TIRE_VOLUME],
    ['from', input.from, COLD_PRESSURE],
    ['to', input.to, COLD_PRESSURE],
    ['pressureMax', input.pressureMax, COLD_PRESSURE],
    ['delivery', input.delivery, AIR_DELIVERY],
    ['powerRunning', input.powerRunning, COMPRESSOR_POWER],
    ['powerStarting', input.powerStarting, COMPRESSOR_POWER],
    ['outletContinuous', input.outletContinuous, COMPRESSOR_POWER],
    ['outletStarting', input.outletStarting, COMPRESSOR_POWER],
    ['dutyCycle', input.dutyCycle, DUTY_CYCLE],
    ['runMax', input.runMax, PUMPING_TIME],
  ]);
  if (wrong !== null) return wrong;
  if (valueIn(input.to, 'psi') <= valueIn(input.from, 'psi')) {
    return {
      code: 'inflate.pressures',
      what: 'To inflate is to go from a gauge pressure to a higher one.',
      where: 'to',
      expected: 'an end pressure above the start',
    };
  }
  if (input.pressureMax !== undefined && compare(input.to, input.pressureMax) > 0) {
    return {
      code: 'inflate.above-max',
      what: `${formatQuantity(input.to)} is above the ${formatQuantity(input.pressureMax)} that sidewall, wheel and valve hold.`,
      where: 'to',
      expected: 'an end pressure of at most that',
      next: 'Never fill above the lowest of the three: a tire or a wheel that bursts kills.',
    };
  }
  const small = [
    ['delivery', valueIn(input.delivery, 'ft3/min') / DELIVERY_LEAST],
    ['volume', valueIn(input.volume, 'ft3') / VOLUME_LEAST],
    ['runMax', input.runMax === undefined ? 1 : valueIn(input.runMax, 's')],
  ] as const;
  const [where] = small.find(([, share]) => !(share >= 1)) ?? [];
  if (where === undefined) return null;
  return {
    code: 'inflate.delivery',
    what: 'That is less than any compressor or any tire has.',
    where,
    expected: `a delivery from ${DELIVERY_LEAST} ft³/min, a volume from ${VOLUME_LEAST} ft³, a run of at least 1 s`,
  };
}

/** Half of what the smallest pocket pump delivers, ft³/min, and less than a wheelbarrow's tire holds, ft³ (our own choice). */
const DELIVERY_LEAST = 0.05;
const VOLUME_LEAST = 0.1;

const SEA_LEVEL = quantity(0, 'ft');

/**
 * Time and work to inflate.
 *
 * @returns `inflate.pressures`, `inflate.above-max`, `inflate.delivery`, `inflate.power-impossible` and those of ranges
 * @example 2.3 ft³ from 50 to 65 psi at 1.5 ft³/min → 2.35 ft³ of free air, 1.57 min
 */
export function inflate(input: InflateInput): Result<Inflate> {
  const air = atmosphere(input.elevation ?? SEA_LEVEL);
  if (!air.ok) return fail({ ...air.problems[0]!, where: 'elevation' });
  const wrong = inputProblem(input);
  if (wrong !== null) return fail(wrong);
  const airPa = valueIn(air.value, 'Pa');
  const [from, to] = [valueIn(input.from, 'Pa'), valueIn(input.to, 'Pa')];
  const freeM3 = ((input.tires ?? 1) * valueIn(input.volume, 'm3') * (to - from)) / airPa;
  const freeFt3 = valueIn(quantity(freeM3, 'm3'), 'ft3');
  const minutes = freeFt3 / valueIn(input.delivery, 'ft3/min');
  const joules = freeM3 * compressionWork(to, airPa, 'adiabatic');
  const watts = joules / (minutes * 60);
  const impossible = powersProblem(input, watts);
  if (impossible !== null) return fail(impossible);
  const outlet = outletAnswer(input, watts);
  const whole = withRests(minutes, input);
  return ok({
    freeAir: convertLike(quantity(freeFt3, 'ft3'), input.volume),
    time: quantity(minutes, 'min'),
    timeWithRests: whole === null ? null : quantity(whole, 'min'),
    work: quantity(joules / 1000, 'kJ'),
    powerIdeal: quantity(watts, 'W'),
    outletHolds: outlet.outletHolds,
    limitedBy: limitOf(outlet, whole, minutes),
    assumed: [
      ...(input.elevation === undefined ? ['elevation: sea level'] : []),
      ...(input.pressureMax === undefined ? ['pressureMax: not given; the end pressure is not held against it'] : []),
      ...(whole === null ? ['dutyCycle: not given; rests are not counted'] : []),
    ],
    cautions: [...fillingCautions(input, minutes, whole), ...outlet.cautions],
  });
}

/**
 * Minutes with the rests between. A run as long as `runMax`, then as long a rest as the duty cycle asks for; without `runMax`, rests in
 * the same proportion from the first minute. Null where no duty cycle is given and one run does not do.
 */
function withRests(minutes: number, { dutyCycle, runMax }: InflateInput): number | null {
  const run = runMax === undefined ? null : valueIn(runMax, 'min');
  if (run !== null && minutes <= run) return minutes;
  if (dutyCycle === undefined) return null;
  const share = valueIn(dutyCycle, 'ratio');
  if (run === null) return minutes / share;
  const rests = Math.ceil(minutes / run - 1e-9) - 1;
  return minutes + (rests * run * (1 - share)) / share;
}

function limitOf(outlet: OutletAnswer, whole: number | null, minutes: number): string {
  return outlet.outletHolds !== false && whole !== null && whole > minutes
    ? 'the compressor’s duty cycle'
    : outlet.limitedBy;
}

/** A small compressor that runs on is hot enough to burn within minutes (common practice, no source). */
const HOT_AFTER_MINUTES = 5;

function fillingCautions(input: InflateInput, minutes: number, whole: number | null): readonly string[] {
  const low = valueIn(input.from, 'psi') < (1 - RUN_LOW_SHARE) * valueIn(input.to, 'psi');
  return [
    'Inflate from beside the tread, with a clip-on chuck; never above the sidewall, wheel or valve maximum.',
    ...(low
      ? [
          'A tire driven at a fifth or more below its pressure may burst as it fills: have it looked at off the rim first. Only one that was never driven on so low is filled here.',
        ]
      : []),
    ...(minutes > HOT_AFTER_MINUTES || (whole !== null && whole > minutes)
      ? [
          'Cylinder, hose end and chuck get hot enough to burn. Let it rest as its label says, in the shade, with air around it.',
        ]
      : []),
    ...(whole === null
      ? [
          'How long it may run is not known: read the duty cycle on its label. A small one overheats, stops or burns out.',
        ]
      : []),
    'Delivery falls as pressure rises: a figure printed for no pressure makes the time too short. Air just pumped in is warm: read the tire again when it has cooled.',
  ];
}
