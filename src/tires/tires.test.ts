import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { convert, parseQuantity, type Quantity, quantity, type UnitId, valueIn } from '../quantity/index.ts';
import {
  freeAirDelivery,
  gaugeAt,
  inflate,
  loadOfIndex,
  oneWheelLost,
  type TireSpec,
  tireLeak,
  tireLoad,
  tireMargins,
  tirePressureAt,
  tirePressureFor,
  tireSetNow,
  tireSpeed,
  tireTables,
} from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);
const st = (loadRange: string): TireSpec => ({ size: 'ST225/75R15', family: 'ST', loadRange });

describe('tireLoad', () => {
  it('reads rows, stays under them between, and never rises above the last', () => {
    const at = (pressure: string, loadRange = 'D') => {
      const { load, basis } = unwrap(tireLoad({ ...st(loadRange), pressure: q(pressure) }));
      return [Math.round(load.value), load.unit, basis];
    };
    expect(at('65 psi')).toEqual([2540, 'lb', 'table']);
    expect(at('50 psi')).toEqual([2150, 'lb', 'table']);
    expect(at('80 psi')).toEqual([2540, 'lb', 'table']);
    expect(at('80 psi', 'E')).toEqual([2830, 'lb', 'table']);
    expect(at('62 psi')[2]).toBe('between-rows');
    expect(at('12 psi')).toEqual([848, 'lb', 'below-table']);
    expect(at('448.159 kPa')[1]).toBe('kg');
  });

  it('rises with pressure and stays within the rows for every size', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...tireTables),
        fc.double({ min: 0.5, max: 1.4, noNaN: true }),
        fc.double({ min: 0, max: 0.2, noNaN: true }),
        (table, share, more) => {
          const top = table.rows.at(-1)!;
          const spec = { size: table.size, family: table.family, fitment: table.fitment, loadRange: top[2] };
          const low = share * table.rows[0]![0];
          const high = low * (1 + more);
          const a = unwrap(tireLoad({ ...spec, pressure: quantity(low, 'psi') })).load.value;
          const b = unwrap(tireLoad({ ...spec, pressure: quantity(high, 'psi') })).load.value;
          expect(a).toBeLessThanOrEqual(b * (1 + 1e-12));
          const cover = table.rows.find((row) => row[0] >= high) ?? top;
          expect(b).toBeLessThanOrEqual(cover[1] * (1 + 1e-12));
        },
      ),
    );
  });

  it('gives the same load whatever the unit of the pressure', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 90, noNaN: true }),
        fc.constantFrom<UnitId>('kPa', 'bar', 'Pa', 'inHg'),
        (psi, unit) => {
          const pressure = quantity(psi, 'psi');
          const a = unwrap(tireLoad({ ...st('E'), pressure })).load;
          const b = unwrap(tireLoad({ ...st('E'), pressure: convert(pressure, unit) })).load;
          expect(valueIn(b, 'lb')).toBeCloseTo(valueIn(a, 'lb'), 6);
        },
      ),
    );
  });

  it('lets the sidewall win and asks for it where two ratings are sold', () => {
    expect(codeOf(tireLoad({ size: 'ST235/85R16', family: 'ST', loadRange: 'G', pressure: q('110 psi') }))).toBe(
      'tire.two-ratings',
    );
    const sidewall = { load: q('4,080 lb'), pressure: q('110 psi') };
    expect(
      unwrap(tireLoad({ size: 'ST235/85R16', family: 'ST', loadRange: 'G', pressure: q('110 psi'), sidewall })).load
        .value,
    ).toBeCloseTo(4080, 9);
    const lower = unwrap(
      tireLoad({ ...st('D'), pressure: q('65 psi'), sidewall: { load: q('2,470 lb'), pressure: q('65 psi') } }),
    );
    expect(lower.load.value).toBeCloseTo(2470, 9);
    expect(lower.cautions.join()).toContain('sidewall');
    expect(
      codeOf(tireLoad({ ...st('D'), pressure: q('65 psi'), sidewall: { load: q('5,540 lb'), pressure: q('65 psi') } })),
    ).toBe('tire.sidewall-implausible');
  });

  it('keeps the families apart and divides passenger tires', () => {
    expect(codeOf(tireLoad({ ...st('D'), family: 'LT', pressure: q('65 psi') }))).toBe('tire.family-mismatch');
    expect(codeOf(tireLoad({ ...st('Q'), pressure: q('65 psi') }))).toBe('tire.load-range');
    expect(codeOf(tireLoad({ ...st('D'), pressure: q('3 psi') }))).toBe('tire.pressure-too-low');
    expect(codeOf(tireLoad({ size: 'ST999/75R15', family: 'ST', loadRange: 'D', pressure: q('50 psi') }))).toBe(
      'tire.size-unknown',
    );
    const p = {
      size: 'P225/75R15',
      family: 'P',
      loadRange: 'B',
      sidewall: { load: q('1,874 lb'), pressure: q('35 psi') },
      pressure: q('35 psi'),
    } as const;
    expect(unwrap(tireLoad(p)).load.value).toBeCloseTo(1703.6, 1);
    expect(unwrap(tireLoad({ ...p, vehicle: 'car' })).load.value).toBeCloseTo(1874, 9);
  });

  it('takes the rows of the maker’s own table', () => {
    const rows = [
      { pressure: q('50 psi'), load: q('2,000 lb') },
      { pressure: q('55 psi'), load: q('2,100 lb') },
    ];
    expect(unwrap(tireLoad({ ...st('D'), rows, pressure: q('55 psi') })).load.value).toBeCloseTo(2100, 9);
    expect(
      codeOf(
        tireLoad({
          ...st('D'),
          rows: [...rows, { pressure: q('60 psi'), load: q('1,900 lb') }],
          pressure: q('55 psi'),
        }),
      ),
    ).toBe('tire.rows-not-rising');
  });
});

describe('tirePressureFor', () => {
  it('is the row that carries the load, and refuses an overload', () => {
    const need = (load: string) => unwrap(tirePressureFor({ ...st('D'), load: q(load) }));
    expect(need('1,800 lb').pressure).toEqual(q('40 psi'));
    expect(need('900 lb')).toMatchObject({ basis: 'lowest-row', pressure: q('15 psi') });
    expect(need('1000 kg').pressure.unit).toBe('kPa');
    expect(codeOf(tirePressureFor({ ...st('D'), load: q('2,541 lb') }))).toBe('tire.overload');
    expect(codeOf(tirePressureFor({ ...st('D'), load: q('0 lb') }))).toBe('tire.load');
  });

  it('never names a pressure that does not carry the load', () => {
    fc.assert(
      fc.property(fc.constantFrom(...tireTables), fc.double({ min: 0.2, max: 1, noNaN: true }), (table, share) => {
        const top = table.rows.at(-1)!;
        const spec = { size: table.size, family: table.family, fitment: table.fitment, loadRange: top[2] };
        const found = unwrap(tirePressureFor({ ...spec, load: quantity(share * top[1], 'lb') }));
        expect(found.margin.value).toBeGreaterThanOrEqual(-1e-6);
        expect(unwrap(tireLoad({ ...spec, pressure: found.pressure })).load.value).toBeCloseTo(
          found.loadAtPressure.value,
          6,
        );
      }),
    );
  });
});

describe('gauge pressure in other air', () => {
  const state = (temperature: string, elevation: string) => ({ temperature: q(temperature), elevation: q(elevation) });

  it('undoes itself, whatever the units', () => {
    const air = fc.record({
      f: fc.double({ min: -40, max: 140, noNaN: true }),
      ft: fc.double({ min: 0, max: 14000, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.double({ min: 20, max: 110, noNaN: true }), air, air, (psi, a, b) => {
        const from = { temperature: quantity(a.f, 'degF'), elevation: quantity(a.ft, 'ft') };
        const to = { temperature: quantity(b.f, 'degF'), elevation: quantity(b.ft, 'ft') };
        const there = unwrap(gaugeAt(quantity(psi, 'psi'), from, to));
        const metric = unwrap(
          gaugeAt(
            convert(quantity(psi, 'psi'), 'bar'),
            { temperature: convert(from.temperature, 'degC'), elevation: convert(from.elevation, 'm') },
            { temperature: convert(to.temperature, 'K'), elevation: convert(to.elevation, 'km') },
          ),
        );
        expect(valueIn(metric, 'psi')).toBeCloseTo(there.value, 8);
        expect(there.value).toBeGreaterThan(0);
        expect(unwrap(gaugeAt(there, to, from)).value).toBeCloseTo(psi, 8);
        const hotter = unwrap(gaugeAt(quantity(psi, 'psi'), from, { ...to, temperature: quantity(b.f + 5, 'degF') }));
        const higher = unwrap(gaugeAt(quantity(psi, 'psi'), from, { ...to, elevation: quantity(b.ft + 500, 'ft') }));
        expect(hotter.value).toBeGreaterThan(there.value);
        expect(higher.value).toBeGreaterThan(there.value);
      }),
    );
  });

  it('refuses what no tire can show', () => {
    const here = state('70 °F', '0 ft');
    expect(codeOf(gaugeAt(q('-15 psi'), here, here))).toBe('tire.gauge');
    expect(codeOf(gaugeAt(q('12 psi'), { ...here, temperature: quantity(-459.67, 'degF') }, here))).toBe(
      'tire.below-absolute-zero',
    );
    expect(codeOf(gaugeAt(q('12 psi'), here, state('300 °F', '0 ft')))).toBe('tire.temperature');
    expect(codeOf(gaugeAt(q('12 psi'), here, state('70 °F', '60,000 ft')))).toBe('atmosphere.elevation');
  });

  it('says what it assumed and warns of a flat', () => {
    const cold = unwrap(tirePressureAt({ gauge: q('1 psi'), temperature: q('70 °F'), toTemperature: q('0 °F') }));
    expect(cold.gauge.value).toBeLessThan(0);
    expect(cold.cautions).toHaveLength(1);
    expect(cold.assumed).toHaveLength(2);
  });

  it('sets now what will be right there', () => {
    const set = unwrap(
      tireSetNow({
        target: q('65 psi'),
        targetTemperature: q('90 °F'),
        targetElevation: q('0 ft'),
        temperature: q('40 °F'),
        elevation: q('5,000 ft'),
      }),
    );
    const back = unwrap(
      tirePressureAt({
        gauge: set.gauge,
        temperature: q('40 °F'),
        elevation: q('5,000 ft'),
        toTemperature: q('90 °F'),
        toElevation: q('0 ft'),
      }),
    );
    expect(back.gauge.value).toBeCloseTo(65, 9);
    const wrong = tireSetNow({
      target: q('65 psi'),
      targetTemperature: q('900 °F'),
      targetElevation: q('0 ft'),
      temperature: q('40 °F'),
      elevation: q('0 ft'),
    });
    expect(wrong.ok ? '' : wrong.problems[0]!.where).toBe('targetTemperature');
  });
});

describe('tireLeak', () => {
  const reading = (on: string, gauge: string, temperature = '70 °F') => ({
    on,
    gauge: q(gauge),
    temperature: q(temperature),
    elevation: q('0 ft'),
  });

  it('does not take a cold morning for a leak', () => {
    const cold = unwrap(
      gaugeAt(
        q('65 psi'),
        { temperature: q('70 °F'), elevation: q('0 ft') },
        { temperature: q('20 °F'), elevation: q('0 ft') },
      ),
    );
    const leak = unwrap(
      tireLeak({
        readings: [reading('2026-10-01', '65 psi'), { ...reading('2026-11-01', '0 psi', '20 °F'), gauge: cold }],
      }),
    );
    expect(leak.rate.value).toBeCloseTo(0, 9);
    expect(leak.holdsUntil).toBeNull();
    expect(leak.limitedBy).toBe('the gauge');
  });

  it('finds the day on which it falls too low, and one misreading does not move it', () => {
    const readings = [
      reading('2026-06-01', '65 psi'),
      reading('2026-06-08', '63 psi'),
      reading('2026-06-15', '75 psi'),
      reading('2026-06-22', '59 psi'),
      reading('2026-06-29', '57 psi'),
    ];
    const leak = unwrap(tireLeak({ readings, floor: q('50 psi') }));
    expect(leak.rate.value).toBeCloseTo(2, 1);
    expect(leak.holdsUntil).toBe('2026-07-23');
    expect(leak.cautions.join()).toContain('nail');
    expect(codeOf(tireLeak({ readings: readings.slice(0, 1) }))).toBe('tire.readings');
  });
});

describe('tireSpeed', () => {
  const ask = (speed: string, more = {}) =>
    tireSpeed({ family: 'ST', speed: q(speed), pressure: q('65 psi'), pressureMax: q('80 psi'), ...more });

  it('adds pressure, then takes load, and stops at what wheel and symbol hold', () => {
    expect(unwrap(ask('60 mph'))).toMatchObject({ allowed: true, pressure: q('65 psi'), loadShare: 1 });
    expect(unwrap(ask('70 mph'))).toMatchObject({ allowed: true, pressure: q('75 psi'), loadShare: 1 });
    expect(unwrap(ask('70 mph', { pressureMax: q('65 psi') }))).toMatchObject({ allowed: false, limit: q('65 mph') });
    expect(unwrap(ask('80 mph'))).toMatchObject({ allowed: false });
    expect(unwrap(ask('80 mph', { speedSymbol: 'N' }))).toMatchObject({ allowed: true, loadShare: 0.9 });
    expect(unwrap(ask('70 mph', { speedSymbol: 'J' }))).toMatchObject({
      allowed: false,
      limitedBy: 'the speed symbol',
    });
    expect(unwrap(ask('100 km/h')).limit.unit).toBe('km/h');
    expect(codeOf(ask('70 mph', { family: 'LT' }))).toBe('tire.speed-symbol-missing');
    expect(codeOf(ask('70 mph', { speedSymbol: '7' }))).toBe('tire.speed-symbol');
  });
});

describe('inflate', () => {
  it('tells time, and which limit of the outlet fails', () => {
    const base = { volume: q('2.3 ft³'), from: q('50 psi'), to: q('65 psi'), delivery: q('1.5 cfm') };
    const plain = unwrap(inflate(base));
    expect(plain.time.value).toBeCloseTo(1.565, 3);
    expect(plain.outletHolds).toBeNull();
    expect(unwrap(inflate({ ...base, tires: 4 })).time.value).toBeCloseTo(4 * plain.time.value, 9);
    const outlet = { ...base, powerRunning: q('1,840 W'), powerStarting: q('9 kW') };
    expect(unwrap(inflate({ ...outlet, outletContinuous: q('400 W') })).limitedBy).toContain('continuous');
    expect(unwrap(inflate({ ...outlet, outletContinuous: q('2 kW') })).limitedBy).toContain('starting');
    expect(unwrap(inflate({ ...outlet, outletContinuous: q('2 kW'), outletStarting: q('10 kW') })).outletHolds).toBe(
      true,
    );
    expect(codeOf(inflate({ ...base, to: q('40 psi') }))).toBe('inflate.pressures');
    expect(codeOf(inflate({ ...base, delivery: q('0 cfm') }))).toBe('inflate.delivery');
    expect(codeOf(freeAirDelivery({ receiver: q('6 gal'), from: q('10 psi'), to: q('5 psi'), time: q('3 min') }))).toBe(
      'inflate.pump-up',
    );
  });
});

describe('oneWheelLost', () => {
  it('never permits, and names the weakest', () => {
    const lost = unwrap(
      oneWheelLost({
        axleLoad: q('5,600 lb'),
        tireRating: q('2,540 lb'),
        axleRating: q('3,500 lb'),
        suspension: 'torsion',
      }),
    );
    expect(lost).toMatchObject({
      over: true,
      permitted: false,
      limitedBy: 'half the axle rating',
      sameSide: { high: q('2,800 lb') },
    });
    expect(lost.unloadTo).toEqual(q('3,500 lb'));
    const light = unwrap(
      oneWheelLost({
        axleLoad: q('3,000 lb'),
        tireRating: q('2,540 lb'),
        axleRating: q('3,500 lb'),
        suspension: 'leaf',
      }),
    );
    expect(light).toMatchObject({ over: false, permitted: false });
    expect(light.cautions.join()).toContain('Do not move it');
    expect(
      codeOf(
        oneWheelLost({
          axleLoad: q('3,000 lb'),
          tireRating: q('1 lb'),
          axleRating: q('1 lb'),
          suspension: 'leaf',
          sideShare: q('120 %'),
        }),
      ),
    ).toBe('tire.wheel-lost');
  });
});

describe('tireMargins', () => {
  const tire = (place: string, side: 'left' | 'right', more = {}) => ({
    ...st('D'),
    place,
    side,
    pressure: q('65 psi'),
    ...more,
  });
  const axle = (name: string, load: string, more = {}) => ({
    name,
    load: q(load),
    tires: [tire(`${name}, left`, 'left', more), tire(`${name}, right`, 'right')],
  });

  it('takes each tire, axle and side on its own', () => {
    const margins = unwrap(
      tireMargins({ axles: [axle('axle 1', '3,000 lb', { load: q('1,600 lb') }), axle('axle 2', '2,800 lb')] }),
    );
    expect(margins.tires.map((one) => Math.round(one.margin.value))).toEqual([940, 1140, 1140, 1140]);
    expect(margins.axles.map((one) => Math.round(one.margin.value))).toEqual([2080, 2280]);
    expect(margins.sides.map((one) => Math.round(one.load.value))).toEqual([3000, 2800]);
    expect(margins.limitedBy).toBe('axle 1, left');
    expect(margins.assumed).toHaveLength(2);
  });

  it('refuses mixed tires and loads that do not add up; names axles rated above their tires', () => {
    expect(codeOf(tireMargins({ axles: [axle('axle 1', '3,000 lb', { loadRange: 'E' })] }))).toBe('tire.mixed-axle');
    expect(codeOf(tireMargins({ axles: [axle('axle 1', '3,000 lb', { load: q('3,100 lb') })] }))).toBe(
      'tire.loads-do-not-add-up',
    );
    expect(codeOf(tireMargins({ axles: [] }))).toBe('tire.no-tires');
    const under = unwrap(tireMargins({ axles: [{ ...axle('axle 1', '3,000 lb'), rating: q('5,200 lb') }] }));
    expect(under.underRated).toEqual(['axle 1']);
    expect(
      unwrap(tireMargins({ axles: [{ ...axle('axle 1', '3,000 lb'), rating: q('5,080 lb') }] })).underRated,
    ).toEqual([]);
  });
});

describe('loadOfIndex', () => {
  it('knows 60 to 130', () => {
    expect(unwrap(loadOfIndex(117))).toEqual(q('1285 kg'));
    expect(codeOf(loadOfIndex(59))).toBe('tire.load-index');
    expect(codeOf(loadOfIndex(117.5))).toBe('tire.load-index');
  });
});
