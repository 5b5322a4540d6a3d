/** Both sides of each bound of the room, and what is told with an answer: what limits it, what was assumed, what to beware of. */

import { describe, expect, it } from 'vitest';
import { q, st } from '../../test/support/tires.ts';
import { type Result, unwrap } from '../problem/index.ts';
import { quantity, valueIn } from '../quantity/index.ts';
import {
  freeAirDelivery,
  gaugeAt,
  inflate,
  loadOfIndex,
  oneWheelLost,
  symbolSpeed,
  type TireSpec,
  tireLeak,
  tireLoad,
  tireMargins,
  tirePressureAt,
  tirePressureFor,
  tireRating,
  tireSetNow,
  tireSpeed,
} from './index.ts';

const fault = (result: Result<unknown>) => {
  if (result.ok) return 'ok';
  const { code, where, what, expected } = result.problems[0]!;
  expect(what.length).toBeGreaterThan(5);
  expect(expected === undefined || expected.length > 5).toBe(true);
  return `${code} at ${where}`;
};
const rated = (load: string, pressure: string) => ({ load: q(load), pressure: q(pressure) });

describe('gauge pressure (gas law; −60 to 85 °C is any air a rig meets)', () => {
  const air = (celsius: number) => ({ temperature: quantity(celsius, 'degC'), elevation: q('0 ft') });
  it('at both ends of the temperatures', () => {
    const at = (from: number, to: number) => fault(gaugeAt(q('50 psi'), air(from), air(to)));
    expect([at(-60, 85), at(85, -60)]).toEqual(['ok', 'ok']);
    expect(at(-60.1, 20)).toBe('tire.temperature at temperature');
    expect(at(85.1, 20)).toBe('tire.temperature at temperature');
    expect(at(20, -60.1)).toBe('tire.temperature at toTemperature');
    expect(at(20, 85.1)).toBe('tire.temperature at toTemperature');
    expect(at(20, -273.15)).toBe('tire.below-absolute-zero at toTemperature');
    expect(at(-273.14, 20)).toBe('tire.temperature at temperature');
    expect(fault(gaugeAt(q('50 psi'), { ...air(20), elevation: q('90,000 ft') }, air(20)))).toBe(
      'atmosphere.elevation at elevation',
    );
    expect(fault(gaugeAt(q('50 psi'), air(20), { ...air(20), elevation: q('90,000 ft') }))).toBe(
      'atmosphere.elevation at toElevation',
    );
  });

  it('zero is a reading, less is none; a vacuum is named as such', () => {
    const at = (psi: string) => gaugeAt(q(psi), air(20), air(20));
    expect(unwrap(at('0 psi')).value).toBeCloseTo(0, 9);
    const told = (psi: string) => {
      const result = at(psi);
      return result.ok ? '' : result.problems[0]!.what;
    };
    expect(told('-0.1 psi')).toContain('no less than the air outside');
    // Standard air at sea level: 14.696 psi (U.S. Standard Atmosphere 1976).
    expect(told('-14.6 psi')).toContain('no less than the air outside');
    expect(told('-14.7 psi')).toContain('vacuum');
    expect(fault(at('150.1 psi'))).toBe('quantity.out-of-range at gauge');
  });

  it('says what was not given', () => {
    const base = { gauge: q('65 psi'), temperature: q('70 °F') };
    expect(unwrap(tirePressureAt(base))).toMatchObject({ gauge: { unit: 'psi' }, cautions: [] });
    expect(unwrap(tirePressureAt(base)).gauge.value).toBeCloseTo(65, 9);
    expect(unwrap(tirePressureAt(base)).assumed).toEqual([
      'elevation: sea level',
      'toElevation: the same as elevation',
      'toTemperature: the same as temperature',
    ]);
    const all = { ...base, elevation: q('0 ft'), toElevation: q('5,000 ft'), toTemperature: q('70 °F') };
    expect(unwrap(tirePressureAt(all)).assumed).toEqual([]);
    // 14.696 psi at sea level, 12.228 at 5,000 ft (U.S. Standard Atmosphere 1976).
    expect(unwrap(tirePressureAt(all)).gauge.value).toBeCloseTo(65 + 14.696 - 12.228, 2);
    // The height of the reading is the height of the answer, where no other is given.
    expect(unwrap(tirePressureAt({ ...base, elevation: q('5,000 ft') })).gauge.value).toBeCloseTo(65, 9);
  });

  it('set now: each maximum alone, the lower of two whichever it is, to the last tenth', () => {
    const set = (more: object) =>
      tireSetNow({
        target: q('65 psi'),
        targetTemperature: q('70 °F'),
        targetElevation: q('0 ft'),
        temperature: q('70 °F'),
        elevation: q('0 ft'),
        ...more,
      });
    for (const name of ['sidewallMax', 'wheelMax']) {
      expect(fault(set({ [name]: q('65 psi') }))).toBe('ok');
      expect(fault(set({ [name]: q('64.9 psi') }))).toBe('tire.set-above-max at target');
      expect(unwrap(set({ [name]: q('65 psi') })).assumed).toEqual([]);
    }
    const both = (sidewallMax: string, wheelMax: string) => {
      const result = set({ sidewallMax: q(sidewallMax), wheelMax: q(wheelMax) });
      return result.ok ? '' : result.problems[0]!.what;
    };
    expect(both('60 psi', '62 psi')).toContain('60 psi that the sidewall');
    expect(both('62 psi', '60 psi')).toContain('60 psi that the wheel');
    expect(fault(set({ targetElevation: q('90,000 ft') }))).toBe('atmosphere.elevation at targetElevation');
    expect(fault(set({ elevation: q('90,000 ft') }))).toBe('atmosphere.elevation at elevation');
    expect(fault(set({ temperature: q('300 °F') }))).toBe('tire.temperature at temperature');
    expect(fault(set({ target: q('-1 psi') }))).toBe('tire.gauge at target');
  });
});

describe('speed (ST 65 mph unmarked; 10 psi more to 75; Tire and Rim Association ST-M1)', () => {
  const ask = (mph: number, more = {}) =>
    tireSpeed({ family: 'ST', speed: quantity(mph, 'mph'), pressure: q('50 psi'), pressureMax: q('65 psi'), ...more });
  it('names the field that cannot be', () => {
    expect(fault(ask(0))).toBe('tire.speed at speed');
    expect(fault(ask(171))).toBe('quantity.out-of-range at speed');
    expect(fault(ask(60, { pressure: q('0 psi') }))).toBe('tire.gauge at pressure');
    expect(fault(ask(60, { pressureMax: q('0 psi') }))).toBe('tire.gauge at pressureMax');
    expect(fault(ask(60, { pressure: q('151 psi') }))).toBe('quantity.out-of-range at pressure');
    expect(fault(ask(60, { pressureMax: q('151 psi') }))).toBe('quantity.out-of-range at pressureMax');
    expect(fault(ask(60, { pressure: q('65.1 psi') }))).toBe('tire.pressure-above-max at pressure');
    expect(fault(ask(60, { family: 'P' }))).toBe('tire.speed-symbol-missing at speedSymbol');
    expect(fault(symbolSpeed('I'))).toBe('tire.speed-symbol at speedSymbol');
    // ETRTO: N is 140 km/h, L 120, M 130.
    expect(['n', ' L ', 'M'].map((symbol) => unwrap(symbolSpeed(symbol)))).toEqual([
      q('140 km/h'),
      q('120 km/h'),
      q('130 km/h'),
    ]);
  });

  it('asks for ten more from just above 65, and says by what it is limited', () => {
    expect(unwrap(ask(65))).toMatchObject({ allowed: true, pressure: q('50 psi'), limitedBy: 'the ST speed rule' });
    expect(unwrap(ask(65)).cautions).toHaveLength(1);
    const faster = unwrap(ask(65.1));
    expect(faster).toMatchObject({ allowed: true, pressure: q('60 psi'), loadShare: 1, limit: q('75 mph') });
    expect(faster.cautions.join()).toContain('60 psi; the extra pressure carries no extra load');
    const held = unwrap(ask(65.1, { pressure: q('60 psi') }));
    expect(held).toMatchObject({
      allowed: false,
      pressure: q('60 psi'),
      limitedBy: 'the highest pressure of wheel, valve and sidewall',
    });
    expect(held.cautions.join()).toContain('stay at 65 mph');
    expect(unwrap(ask(60, { pressure: q('60 psi') })).cautions.join()).not.toContain('stay at');
    const fast = unwrap(ask(84, { speedSymbol: 'S' }));
    expect(fast).toMatchObject({ allowed: true, loadShare: 0.9, limit: q('85 mph'), pressure: q('60 psi') });
    // J is 100 km/h, 62.1 mph: under the rule even where there is room.
    expect(unwrap(ask(62, { speedSymbol: 'J' }))).toMatchObject({ allowed: true, limitedBy: 'the speed symbol' });
    expect(unwrap(ask(62.2, { speedSymbol: 'J' })).allowed).toBe(false);
    const lt = unwrap(ask(80, { family: 'LT', speedSymbol: 'S' }));
    expect(lt).toMatchObject({
      pressure: q('50 psi'),
      loadShare: 1,
      limitedBy: 'the highest speed of any public road',
    });
    expect(lt.cautions).toHaveLength(1);
    expect(unwrap(ask(80, { pressure: q('3.5 bar') })).pressure.unit).toBe('bar');
  });
});

describe('load index (ISO 4000-1: 100 is 800 kg, 121 is 1,450 kg)', () => {
  it('whole numbers of the table only', () => {
    expect(unwrap(loadOfIndex(100))).toEqual(q('800 kg'));
    expect(unwrap(loadOfIndex(121))).toEqual(q('1450 kg'));
    for (const index of [100.5, -1, 1000, Number.NaN])
      expect(fault(loadOfIndex(index))).toBe('tire.load-index at index');
  });
});

describe('wheels and valves under the tire (ST225/75R15 D: 2,150 lb at 50 psi, 2,540 at 65, Goodyear chart)', () => {
  const on = (wheel: TireSpec['wheel']) => tireRating({ ...st('D'), wheel });
  it('the lower pressure and the lower load hold, and are named', () => {
    expect(unwrap(on(undefined))).toMatchObject({
      psiMax: 65,
      limitedBy: 'load range D',
      assumed: [expect.any(String)],
    });
    expect(unwrap(on({ load: q('2,600 lb') })).assumed).toHaveLength(1);
    expect(unwrap(on({ pressure: q('80 psi') })).assumed).toHaveLength(1);
    const strong = unwrap(on({ load: q('2,540 lb'), pressure: q('65 psi') }));
    expect(strong).toMatchObject({ limitedBy: 'load range D', assumed: [] });
    const soft = unwrap(on({ load: q('3,000 lb'), pressure: q('50 psi') }));
    expect(soft).toMatchObject({ psiMax: 50, limitedBy: 'the wheel' });
    expect(soft.points.at(-1)).toEqual({ psi: 50, lb: 2150 });
    expect(soft.points.filter(({ psi }) => psi === 50)).toHaveLength(1);
    const weak = unwrap(on({ load: q('2,000 lb'), pressure: q('80 psi') }));
    expect(weak).toMatchObject({ psiMax: 65, limitedBy: 'the wheel' });
    expect(weak.points.at(-1)!.lb).toBeCloseTo(2000, 9);
    expect(weak.points[0]!.lb).toBeLessThan(2000);
  });

  it('that hold nothing, or less than the first row, are refused', () => {
    expect(fault(on({ load: q('0 lb') }))).toBe('tire.wheel at wheel');
    expect(fault(on({ pressure: q('0 psi') }))).toBe('tire.wheel at wheel');
    const first = unwrap(on(undefined)).points[0]!.psi;
    expect(fault(on({ pressure: quantity(first, 'psi') }))).toBe('ok');
    expect(fault(on({ pressure: quantity(first - 0.1, 'psi') }))).toBe('tire.wheel at wheel.pressure');
    expect(fault(on({ load: q('10,001 lb') }))).toBe('quantity.out-of-range at wheel.load');
    expect(fault(on({ pressure: q('151 psi') }))).toBe('quantity.out-of-range at wheel.pressure');
  });
});

describe('load at a pressure', () => {
  const at = (pressure: string, more = {}) => tireLoad({ ...st('D'), pressure: q(pressure), ...more });
  it('is limited by the pressure until the last row, and warns above the maximum and below the first', () => {
    expect(unwrap(at('64.9 psi')).limitedBy).toBe('the pressure');
    expect(unwrap(at('65 psi'))).toMatchObject({ limitedBy: 'load range D', cautions: [] });
    expect(unwrap(at('65.1 psi')).cautions.join()).toContain('above the highest cold pressure');
    const first = unwrap(tireRating(st('D'))).points[0]!;
    const start = unwrap(at(`${first.psi} psi`));
    expect(start).toMatchObject({ basis: 'table', cautions: [] });
    expect(start.load.value).toBeCloseTo(first.lb, 9);
    expect(unwrap(at(`${first.psi - 0.1} psi`)).cautions.join()).toContain('No published row this low');
    // Half of the first row: a straight line to zero; under it the tire is flat.
    expect(unwrap(at(`${first.psi / 2} psi`)).load.value).toBeCloseTo(first.lb / 2, 6);
    expect(fault(at(`${first.psi / 2 - 0.01} psi`))).toBe('tire.pressure-too-low at pressure');
    expect(fault(at('151 psi'))).toBe('quantity.out-of-range at pressure');
    expect(unwrap(at('65 psi')).sourcesUsed.join()).toContain('Goodyear');
    expect(unwrap(at('65 psi', { sidewall: rated('2,540 lb', '65 psi') }))).toMatchObject({
      limitedBy: 'the sidewall',
    });
    expect(unwrap(at('65 psi', { sidewall: rated('2,540 lb', '65 psi') })).sourcesUsed[0]).toContain('sidewall');
  });

  it('needs a load above zero, and no more than the last row', () => {
    const need = (load: string, more = {}) => tirePressureFor({ ...st('D'), load: q(load), ...more });
    expect(fault(need('0 lb'))).toBe('tire.load at load');
    expect(fault(need('2,541 lb'))).toBe('tire.overload at load');
    expect(fault(need('10,001 lb'))).toBe('quantity.out-of-range at load');
    const full = unwrap(need('2,540 lb'));
    expect(full.pressureLeast).toEqual(q('65 psi'));
    expect(full).toMatchObject({ reserveKept: false });
    expect(full.margin.value).toBeCloseTo(0, 6);
    expect(valueIn(unwrap(need('2,150 lb')).pressureLeast, 'psi')).toBeCloseTo(50, 6);
    expect(valueIn(unwrap(need('2,151 lb')).pressureLeast, 'psi')).toBeGreaterThan(50);
    expect(fault(need('2,000 lb', { labelPressure: q('0 psi') }))).toBe('tire.label at labelPressure');
    // 65 psi is printed as 450 kPa beside it, 65.3 psi.
    expect(fault(need('2,000 lb', { labelPressure: q('450 kPa') }))).toBe('ok');
    expect(fault(need('2,000 lb', { labelPressure: q('66 psi') }))).toBe('tire.label-above-max at labelPressure');
  });
});

describe('one wheel lost (statics: the other wheel of that side carries all of it)', () => {
  const base = {
    axleLoad: q('5,600 lb'),
    tireRating: q('2,800 lb'),
    axleRating: q('5,600 lb'),
    suspension: 'torsion',
  } as const;
  it('is not over at the rating itself, and is above it', () => {
    const at = unwrap(oneWheelLost(base));
    expect(at).toMatchObject({
      over: false,
      sameSide: { low: q('1,400 lb'), high: q('2,800 lb') },
      otherSide: { low: q('0 lb'), high: q('2,800 lb') },
      assumed: [expect.stringContaining('sideShare')],
      unloadTo: q('5,600 lb'),
      limitedBy: 'tire',
    });
    expect(at.cautions[0]).toContain('not a permission');
    expect(at.cautions.join()).toContain('Never tow on a flat');
    expect(at.cautions.join()).toContain('bare hub, its studs');
    const over = unwrap(oneWheelLost({ ...base, wheelRating: q('2,799 lb'), sideShare: q('50 %') }));
    expect(over).toMatchObject({ over: true, limitedBy: 'wheel', assumed: [] });
    expect(over.limits.map(({ what }) => what)).toEqual(['tire', 'wheel', 'half the axle rating']);
    expect(over.cautions[0]).toContain('the wheel that is left can carry 2,800 lb; wheel allows 2,799 lb');
    const left = unwrap(oneWheelLost({ ...base, sideShare: q('60 %') }));
    expect(left).toMatchObject({ over: true, sameSide: { high: q('3,360 lb') }, otherSide: { high: q('2,240 lb') } });
    expect(left.cautions[0]).toContain('the wheel that is left');
    expect(left.unloadTo.value).toBeCloseTo(2800 / 0.6, 6);
  });

  it('names the rating that is nothing', () => {
    for (const name of ['tireRating', 'wheelRating', 'axleRating'])
      expect(fault(oneWheelLost({ ...base, [name]: q('0 lb') }))).toBe(`tire.wheel-lost at ${name}`);
    for (const [name, value] of [
      ['axleLoad', '34,001 lb'],
      ['tireRating', '10,001 lb'],
      ['axleRating', '20,001 lb'],
      ['wheelRating', '10,001 lb'],
      ['sideShare', '9 %'],
      ['sideShare', '91 %'],
    ] as const)
      expect(fault(oneWheelLost({ ...base, [name]: q(value) }))).toBe(`quantity.out-of-range at ${name}`);
    expect(fault(oneWheelLost({ ...base, sideShare: q('10 %') }))).toBe('ok');
  });
});

describe('margins', () => {
  const tire = (place: string, side: 'left' | 'right', more = {}) => ({
    ...st('D'),
    place,
    side,
    pressure: q('65 psi'),
    ...more,
  });
  const axle = (more = {}, left = {}, right = {}) => ({
    name: 'axle 1',
    load: q('4,000 lb'),
    tires: [tire('left', 'left', left), tire('right', 'right', right)],
    ...more,
  });
  const ask = (...args: Parameters<typeof axle>) => tireMargins({ axles: [axle(...args)] });

  it('wheels add up to their axle within 40 lb, and what was not weighed shares the rest', () => {
    const both = (left: number, right: number) =>
      fault(ask({}, { load: quantity(left, 'lb') }, { load: quantity(right, 'lb') }));
    expect([both(2000, 2040), both(2000, 1960)]).toEqual(['ok', 'ok']);
    expect(both(2000, 2041)).toBe('tire.loads-do-not-add-up at axle 1');
    expect(both(2000, 1959)).toBe('tire.loads-do-not-add-up at axle 1');
    expect(fault(ask({}, { load: q('4,000 lb') }))).toBe('tire.loads-do-not-add-up at axle 1');
    const rest = unwrap(ask({}, { load: q('2,200 lb') }));
    expect(rest.tires.map(({ load }) => load.value)).toEqual([2200, 1800]);
    expect(rest.tires[0]!.share.value).toBeCloseTo((100 * 340) / 2540, 9);
    expect(rest.tightest.place).toBe('left');
    expect(unwrap(ask({}, { load: q('2,000 lb') }, { load: q('2,000 lb') })).assumed).toEqual([]);
    expect(fault(ask({ load: q('0 lb') }))).toBe('tire.loads-do-not-add-up at axle 1');
    expect(fault(ask({}, { load: q('0 lb') }))).toBe('tire.load at left: load');
    expect(fault(ask({ tires: [tire('left', 'left')] }))).toBe('tire.no-tires at axle 1');
    expect(fault(ask({ load: q('20,001 lb') }))).toBe('quantity.out-of-range at axle 1: load');
    expect(fault(ask({}, { loadRange: 'Q' }, { loadRange: 'Q' }))).toBe('tire.load-range at left: loadRange');
    expect(fault(ask({}, { pressure: q('3 psi') }))).toBe('tire.pressure-too-low at left: pressure');
    // The same tire however it is written is no mixed axle.
    expect(fault(ask({}, { size: 'st 225/75 r15', loadRange: 'd' }))).toBe('ok');
    expect(fault(ask({}, { size: 'ST205/75R15' }))).toBe('tire.mixed-axle at axle 1');
  });

  it('names tires over, thin and uneven, and axles rated above their tires', () => {
    const fine = unwrap(ask());
    expect(fine).toMatchObject({ cautions: [], thin: [], underRated: [], limitedBy: 'left' });
    expect(fine.axles[0]!.rated.value).toBeCloseTo(5080, 6);
    expect(fine.sides.map(({ place }) => place)).toEqual(['left', 'right']);
    // Tires are rated for the axle at their highest pressure, not at today’s.
    expect(
      unwrap(ask({ rating: q('5,080 lb') }, { pressure: q('50 psi') }, { pressure: q('50 psi') })).underRated,
    ).toEqual([]);
    const under = unwrap(ask({ rating: q('5,081 lb') }));
    expect(under.underRated).toEqual(['axle 1']);
    expect(under.cautions.join()).toContain('571.120');
    const full = unwrap(ask({ load: q('5,080 lb') }));
    expect(full.cautions[0]).toContain('0 % left');
    expect(unwrap(ask({ load: q('5,090 lb') })).cautions[0]).toContain('Over: left by 5 lb');
    expect(unwrap(ask({}, { pressure: q('63 psi') })).cautions).toEqual([]);
    expect(unwrap(ask({}, { pressure: q('62.9 psi') })).cautions).toHaveLength(1);
    const one = unwrap(ask({ tires: [tire('a', 'left'), tire('b', 'left')] }));
    expect(one.sides.map(({ place }) => place)).toEqual(['left']);
    expect(one.sides[0]!.load.value).toBeCloseTo(4000, 6);
  });
});

describe('leaks (2 to 3 psi a month is usual: trailer and tire press)', () => {
  const reading = (on: string, psi: number) => ({
    on,
    gauge: quantity(psi, 'psi'),
    temperature: q('70 °F'),
    elevation: q('0 ft'),
  });
  const leak = (rows: [string, number][], floor?: string) =>
    tireLeak({
      readings: rows.map(([on, psi]) => reading(on, psi)),
      ...(floor === undefined ? {} : { floor: q(floor) }),
    });

  it('reads in any order, two of one day too, and names the reading that cannot be', () => {
    const forth = unwrap(
      leak(
        [
          ['2026-06-01', 65],
          ['2026-06-15', 61],
          ['2026-06-29', 57],
        ],
        '50 psi',
      ),
    );
    const back = unwrap(
      leak(
        [
          ['2026-06-29', 57],
          ['2026-06-01', 65],
          ['2026-06-15', 61],
        ],
        '50 psi',
      ),
    );
    expect(back).toEqual(forth);
    expect(forth.rate.value).toBeCloseTo(2, 9);
    expect(forth.rateRange.low.value).toBeCloseTo(1.5, 9);
    expect(forth.rateRange.high.value).toBeCloseTo(2.5, 9);
    // 7 psi at 2.5 psi a week: 19.6 days.
    expect(forth).toMatchObject({ holdsUntil: '2026-07-18', limitedBy: 'the readings' });
    expect(
      fault(
        leak([
          ['2026-06-01', 65],
          ['2026-06-01', 60],
        ]),
      ),
    ).toBe('tire.readings at readings');
    const twice = unwrap(
      leak([
        ['2026-06-01', 65],
        ['2026-06-01', 65],
        ['2026-06-29', 57],
      ]),
    );
    expect(twice.rate.value).toBeCloseTo(2, 9);
    expect(twice.holdsUntil).toBeNull();
    expect(
      fault(
        leak([
          ['2026-06-01', -5],
          ['2026-06-08', 60],
        ]),
      ),
    ).toBe('tire.gauge at readings.0.gauge');
    expect(
      fault(
        leak(
          [
            ['2026-06-01', 65],
            ['2026-06-08', 60],
          ],
          '151 psi',
        ),
      ),
    ).toBe('quantity.out-of-range at floor');
  });

  it('three psi a month is a sound tire, a fast loss is not, and the gauge may be all of it', () => {
    // 100 days: the gauge leaves 0.02 psi a day open, 0.14 a week; 3 psi in 30.4 days are 0.69 a week.
    const usual = unwrap(
      leak([
        ['2026-01-01', 65],
        ['2026-04-11', 55.2],
      ]),
    );
    expect(usual.cautions.join()).not.toContain('nail');
    const fast = unwrap(
      leak([
        ['2026-01-01', 65],
        ['2026-04-11', 53],
      ]),
    );
    expect(fast.cautions.join()).toContain('nail');
    expect(fast.limitedBy).toBe('the readings');
    const small = unwrap(
      leak([
        ['2026-01-01', 65],
        ['2026-04-11', 64],
      ]),
    );
    expect(small.limitedBy).toBe('the gauge');
    expect(small.cautions.join()).toContain('read again in a week');
    const rising = unwrap(
      leak(
        [
          ['2026-01-01', 55],
          ['2026-04-11', 65],
        ],
        '50 psi',
      ),
    );
    expect(rising).toMatchObject({ holdsUntil: null, limitedBy: 'the readings', cautions: [] });
    // 1 psi read and 2 the gauge hides, in 100 days: 54 psi last 1,800 days. Ten years and more are no date.
    expect(
      unwrap(
        leak(
          [
            ['2026-01-01', 65],
            ['2026-04-11', 64],
          ],
          '10 psi',
        ),
      ).holdsUntil,
    ).not.toBeNull();
    expect(
      unwrap(
        leak(
          [
            ['2026-01-01', 65],
            ['2026-12-31', 65],
          ],
          '10 psi',
        ),
      ).holdsUntil,
    ).toBeNull();
  });
});

describe('inflating', () => {
  const base = { volume: q('2.3 ft³'), from: q('50 psi'), to: q('65 psi'), delivery: q('1.5 cfm') };
  const ask = (more: object) => inflate({ ...base, ...more });
  it('names the figure that cannot be', () => {
    for (const [more, expected] of [
      [{ to: q('50 psi') }, 'inflate.pressures at to'],
      [{ to: q('50.1 psi') }, 'ok'],
      [{ delivery: q('0.05 cfm') }, 'ok'],
      [{ delivery: q('0.049 cfm') }, 'inflate.delivery at delivery'],
      [{ volume: q('0.1 ft³') }, 'ok'],
      [{ volume: q('0.099 ft³') }, 'inflate.delivery at volume'],
      [{ runMax: q('1 s') }, 'ok'],
      [{ runMax: q('0.9 s') }, 'inflate.delivery at runMax'],
      [{ pressureMax: q('65 psi') }, 'ok'],
      [{ pressureMax: q('64.9 psi') }, 'inflate.above-max at to'],
      [{ elevation: q('90,000 ft') }, 'atmosphere.elevation at elevation'],
      [{ volume: q('20.1 ft³') }, 'quantity.out-of-range at volume'],
      [{ delivery: q('101 cfm') }, 'quantity.out-of-range at delivery'],
      [{ powerRunning: q('20,001 W') }, 'quantity.out-of-range at powerRunning'],
      [{ powerStarting: q('20,001 W') }, 'quantity.out-of-range at powerStarting'],
      [{ outletContinuous: q('20,001 W') }, 'quantity.out-of-range at outletContinuous'],
      [{ outletStarting: q('20,001 W') }, 'quantity.out-of-range at outletStarting'],
      [{ dutyCycle: q('101 %') }, 'quantity.out-of-range at dutyCycle'],
      [{ runMax: q('25 h') }, 'quantity.out-of-range at runMax'],
    ] as const)
      expect(fault(ask(more)), JSON.stringify(more)).toBe(expected);
  });

  it('needs V·Δp of free air: 2.3 ft³ by 15 psi over 14.696 psi; more where the air is thin', () => {
    const one = unwrap(ask({}));
    expect(one.freeAir.value).toBeCloseTo((2.3 * 15) / 14.696, 3);
    expect(one.time.value).toBeCloseTo((2.3 * 15) / 14.696 / 1.5, 3);
    expect(one.assumed).toHaveLength(3);
    expect(unwrap(ask({ tires: 4 })).freeAir.value).toBeCloseTo(4 * one.freeAir.value, 9);
    const high = unwrap(ask({ elevation: q('5,000 ft'), pressureMax: q('80 psi'), dutyCycle: q('100 %') }));
    expect(high.freeAir.value).toBeCloseTo((2.3 * 15) / 12.228, 2);
    expect(high.assumed).toEqual([]);
    // 6 gal from 0 to 90 psi in 2 min: 0.802 ft³ by 90 over 14.696 psi, by 2 (1 gal is 231 in³).
    const delivery = freeAirDelivery({ receiver: q('6 gal'), from: q('0 psi'), to: q('90 psi'), time: q('2 min') });
    expect(valueIn(unwrap(delivery), 'ft3/min')).toBeCloseTo((((6 * 231) / 1728) * (90 / 14.696)) / 2, 3);
    const test = (more: object) =>
      fault(freeAirDelivery({ receiver: q('6 gal'), from: q('0 psi'), to: q('90 psi'), time: q('2 min'), ...more }));
    expect(test({ from: q('70 psi') })).toBe('ok');
    expect(test({ from: q('70.1 psi') })).toBe('inflate.pump-up at to');
    expect(test({ receiver: q('121 gal') })).toBe('quantity.out-of-range at receiver');
    expect(test({ time: q('25 h') })).toBe('quantity.out-of-range at time');
  });

  it('says what limits it, and when it gets hot', () => {
    const known = { powerRunning: q('300 W'), powerStarting: q('900 W') };
    expect(unwrap(ask({})).limitedBy).toContain('free-air delivery');
    expect(unwrap(ask({ ...known, outletContinuous: q('299 W') })).limitedBy).toContain('continuous');
    const start = unwrap(ask({ ...known, outletContinuous: q('300 W'), outletStarting: q('899 W') }));
    expect(start.limitedBy).toContain('starting');
    expect(start.cautions.join()).toContain('cannot start it');
    // Without a figure for an instant the outlet gives no more than without end.
    expect(unwrap(ask({ ...known, outletContinuous: q('899 W') })).outletHolds).toBe(false);
    expect(unwrap(ask({ ...known, outletContinuous: q('900 W') })).outletHolds).toBe(true);
    expect(unwrap(ask({ outletContinuous: q('900 W') })).cautions.join()).toContain('both needed');
    // Twelve tires take 18.8 min; rests are no limit where the outlet does not hold it at all.
    const rests = unwrap(ask({ ...known, tires: 12, outletContinuous: q('200 W'), dutyCycle: q('50 %') }));
    expect(rests.limitedBy).toContain('continuous');
    const hot = (tires: number) =>
      unwrap(ask({ tires, dutyCycle: q('100 %') }))
        .cautions.join()
        .includes('hot enough');
    // 1.57 min a tire: three take 4.7 min, four 6.3.
    expect([hot(3), hot(4)]).toEqual([false, true]);
    expect(unwrap(ask({ dutyCycle: q('50 %') })).cautions.join()).toContain('hot enough');
  });
});
