/** `tire-pressure-at` and `tire-set-now`: one gauge pressure seen at another temperature and height. */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import {
  atmosphere,
  compare,
  formatQuantity,
  type Quantity,
  quantity,
  rangeProblem,
  valueIn,
} from '../quantity/index.ts';
import { COLD_PRESSURE, GAUGE_READING } from './ranges.ts';

/** What the air around and inside a tire is like. */
export interface AirState {
  readonly temperature: Quantity;
  readonly elevation: Quantity;
}

/** Colder and hotter than any air a rig meets (−60 °C to 85 °C); beyond them the figure is a misreading. */
const KELVIN_MIN = 213.15;
const KELVIN_MAX = 358.15;

function temperatureProblem(temperature: Quantity, where: string): Problem | null {
  const kelvin = valueIn(temperature, 'K');
  if (kelvin >= KELVIN_MIN && kelvin <= KELVIN_MAX) return null;
  return {
    code: kelvin <= 0 ? 'tire.below-absolute-zero' : 'tire.temperature',
    what: kelvin <= 0 ? 'Nothing is that cold: below absolute zero.' : 'No air around a tire is that cold or that hot.',
    where,
    expected: 'a temperature between −60 °C (−76 °F) and 85 °C (185 °F)',
  };
}

/** Standard air pressure in psi, with the problem's field named. */
function airPsi(elevation: Quantity, where: string): Result<number> {
  const air = atmosphere(elevation);
  if (air.ok) return ok(valueIn(air.value, 'psi'));
  return fail({ ...air.problems[0]!, where });
}

/**
 * The gauge pressure a sealed tire shows in another place: P₂ = (P₁ + air₁)·T₂/T₁ − air₂, absolute temperatures, constant
 * volume. Physics: the gas law; air by the U.S. Standard Atmosphere 1976. A real tire gives a little, so that the true change
 * is slightly smaller.
 *
 * @returns the pressure in the unit of `gauge`, or `tire.gauge`, `tire.temperature`, `atmosphere.elevation`
 * @example 65 psi at 70 °F and sea level, seen at 70 °F and 5,000 ft → 67.47 psi
 */
export function gaugeAt(gauge: Quantity, from: AirState, to: AirState): Result<Quantity> {
  const problem =
    temperatureProblem(from.temperature, 'temperature') ?? temperatureProblem(to.temperature, 'toTemperature');
  if (problem !== null) return fail(problem);
  const airFrom = airPsi(from.elevation, 'elevation');
  if (!airFrom.ok) return airFrom;
  const airTo = airPsi(to.elevation, 'toElevation');
  if (!airTo.ok) return airTo;
  const psi = valueIn(gauge, 'psi');
  const wrong = rangeProblem([['gauge', gauge, GAUGE_READING]]);
  if (wrong !== null) return fail(wrong);
  if (!(psi >= 0)) {
    return fail({
      code: 'tire.gauge',
      what:
        psi <= -airFrom.value
          ? 'No pressure is below a perfect vacuum: that much under the air outside cannot be.'
          : 'A tire holds no less than the air outside: a gauge reads zero or more.',
      where: 'gauge',
      expected: 'a gauge pressure of zero or more',
    });
  }
  const there = ((psi + airFrom.value) * valueIn(to.temperature, 'K')) / valueIn(from.temperature, 'K') - airTo.value;
  const value = valueIn(quantity(there, 'psi'), gauge.unit);
  return ok(quantity(gauge.unit === 'psi' ? there : value, gauge.unit));
}

export interface TirePressureAt {
  readonly gauge: Quantity;
  /** What was not given and therefore assumed. */
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const SEA_LEVEL = quantity(0, 'ft');
const BELOW_OUTSIDE = 'Lower than the air outside: the tire would be flat.';

/** `tire-pressure-at`: a reading, seen where the tire will be. Elevations not given are sea level, and said to be. */
export function tirePressureAt(input: {
  readonly gauge: Quantity;
  readonly temperature: Quantity;
  readonly elevation?: Quantity | undefined;
  readonly toTemperature?: Quantity | undefined;
  readonly toElevation?: Quantity | undefined;
}): Result<TirePressureAt> {
  const elevation = input.elevation ?? SEA_LEVEL;
  const toElevation = input.toElevation ?? elevation;
  const toTemperature = input.toTemperature ?? input.temperature;
  const there = gaugeAt(
    input.gauge,
    { temperature: input.temperature, elevation },
    { temperature: toTemperature, elevation: toElevation },
  );
  if (!there.ok) return there;
  const assumed: string[] = [];
  if (input.elevation === undefined) assumed.push('elevation: sea level');
  if (input.toElevation === undefined) assumed.push('toElevation: the same as elevation');
  if (input.toTemperature === undefined) assumed.push('toTemperature: the same as temperature');
  return ok({ gauge: there.value, assumed, cautions: there.value.value < 0 ? [BELOW_OUTSIDE] : [] });
}

/** The lowest maximum that was given, and whose it is. */
interface Most {
  readonly pressure: Quantity;
  readonly whose: string;
}

function lowestMost(sidewall: Quantity | undefined, wheel: Quantity | undefined): Most | null {
  const given: Most[] = [];
  if (sidewall !== undefined) given.push({ pressure: sidewall, whose: 'sidewall' });
  if (wheel !== undefined) given.push({ pressure: wheel, whose: 'wheel or its valve' });
  return given.reduce<Most | null>((a, b) => (a === null || compare(b.pressure, a.pressure) < 0 ? b : a), null);
}

/** The problem of a pressure above a maximum, or null. */
function aboveMost(pressure: Quantity, most: Most | null, where: string, air: string): Problem | null {
  if (most === null || valueIn(pressure, 'psi') <= valueIn(most.pressure, 'psi') * (1 + 1e-9)) return null;
  return {
    code: 'tire.set-above-max',
    what: `That would be ${formatQuantity(pressure)} ${air}, above the ${formatQuantity(most.pressure)} that the ${most.whose} may hold cold.`,
    where,
    expected: `a pressure of at most ${formatQuantity(most.pressure)}, cold, here and there`,
    next: `Set no more than ${formatQuantity(most.pressure)} here, and set the tire again, cold, when you are there.`,
  };
}

/** The fields of gaugeAt by what tire-set-now calls them. */
const SET_NOW_FIELDS: Readonly<Record<string, string>> = {
  temperature: 'targetTemperature',
  elevation: 'targetElevation',
  toTemperature: 'temperature',
  toElevation: 'elevation',
  gauge: 'target',
};

/** What a gauge shows no difference of, psi. */
const SHOWN_PSI = 0.05;
const LOWER_HERE =
  'Lower than the target: right for a tire that runs there. A tire that carries its load here, in this air, must show the target here.';
const NOT_HELD = 'pressureMax: neither sidewall nor wheel given; the answer is not held against them';

/**
 * `tire-set-now`: what the gauge must show here and now, so that the tire has its target pressure there.
 *
 * @param input.sidewallMax highest cold pressure of the sidewall
 * @param input.wheelMax highest cold pressure of the wheel and its valve
 * @returns the pressure; `tire.set-above-max` where it, or the target itself, is more than sidewall or wheel hold
 * @example target 65 psi at 90 °F and sea level; set at 40 °F and 5,000 ft → 60.22 psi
 */
export function tireSetNow(input: {
  readonly target: Quantity;
  readonly targetTemperature: Quantity;
  readonly targetElevation: Quantity;
  readonly temperature: Quantity;
  readonly elevation: Quantity;
  readonly sidewallMax?: Quantity | undefined;
  readonly wheelMax?: Quantity | undefined;
}): Result<TirePressureAt> {
  const unread = rangeProblem([
    ['sidewallMax', input.sidewallMax, COLD_PRESSURE],
    ['wheelMax', input.wheelMax, COLD_PRESSURE],
  ]);
  if (unread !== null) return fail(unread);
  const now = gaugeAt(
    input.target,
    { temperature: input.targetTemperature, elevation: input.targetElevation },
    { temperature: input.temperature, elevation: input.elevation },
  );
  if (!now.ok) {
    const [first, ...more] = now.problems.map((problem) => ({
      ...problem,
      where: SET_NOW_FIELDS[problem.where ?? ''] ?? 'target',
    }));
    return fail(first!, ...more);
  }
  const most = lowestMost(input.sidewallMax, input.wheelMax);
  const over = aboveMost(input.target, most, 'target', 'there') ?? aboveMost(now.value, most, 'target', 'here');
  if (over !== null) return fail(over);
  const cautions = now.value.value < 0 ? [BELOW_OUTSIDE] : [];
  if (valueIn(now.value, 'psi') < valueIn(input.target, 'psi') - SHOWN_PSI) cautions.push(LOWER_HERE);
  return ok({ gauge: now.value, assumed: most === null ? [NOT_HELD] : [], cautions });
}
