import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../quantity/index.ts';
import { FUSES, fuseFor, fuseHolding, INSULATIONS, LAYINGS, wireDrop, wireGauge, wireOf, wires } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);
const whereOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.where);

/** A short pair of good wire in the open: only the current counts. */
const OPEN = { laying: 'open', insulation: '105', ambient: q('30 °C'), together: 2 } as const;
const run = { ...OPEN, length: q('1 ft'), dropMax: q('10 %') };
const rank = (gauge: string) => wires.findIndex((wire) => wire.gauge === gauge);

const anyRun = fc.record({
  insulation: fc.constantFrom(...INSULATIONS),
  laying: fc.constantFrom(...LAYINGS),
  ambient: fc.double({ min: -40, max: 84, noNaN: true }).map((celsius) => quantity(celsius, 'degC')),
  together: fc.integer({ min: 2, max: 60 }),
  continuous: fc.boolean(),
});

describe('wireOf', () => {
  it('reads gauges as they are written', () => {
    expect(unwrap(wireOf('#10')).gauge).toBe('10');
    expect(unwrap(wireOf('0000')).gauge).toBe('4/0');
    expect(unwrap(wireOf('0')).gauge).toBe('1/0');
    expect(unwrap(wireOf('12 AWG')).gauge).toBe('12');
    expect(codeOf(wireOf('11'))).toBe('power.wire-gauge');
  });
});

describe('wireGauge', () => {
  it('never answers 8 AWG for 200 A, however short the run (33 CFR 183.425: 80 A at most)', () => {
    const found = unwrap(wireGauge({ ...run, current: q('200 A') }));
    // 250 A counted: 1/0 carries 285 A in the open, 1 AWG only 245 A.
    expect(found).toMatchObject({ gauge: '1/0', ampacity: q('285 A'), limitedBy: 'what the wire may carry' });
    expect(found.fuse).toEqual({ low: q('250 A'), high: q('250 A') });
  });

  it('refuses where nothing is known of the run and no wire can be promised', () => {
    const bare = wireGauge({ current: q('200 A'), length: q('1 ft'), dropMax: q('3 %') });
    expect(codeOf(bare)).toBe('power.no-wire');
    expect(bare.ok ? '' : bare.problems[0]!.what).toContain(
      '60 °C insulation, enclosed, air of 50 °C, 6 wires together',
    );
  });

  it('names every assumption, each on the safe side', () => {
    const known = { current: q('5 A'), length: q('10 ft'), dropMax: q('3 %') };
    const bare = unwrap(wireGauge(known));
    expect(bare.assumed.map((text) => text.split(':')[0])).toEqual([
      'voltage',
      'insulation',
      'laying',
      'ambient',
      'together',
      'continuous',
    ]);
    for (const change of [
      { insulation: '105' },
      { laying: 'open' },
      { ambient: q('20 °C') },
      { together: 2 },
      { continuous: false },
    ] as const)
      expect(rank(unwrap(wireGauge({ ...known, ...change })).gauge)).toBeLessThanOrEqual(rank(bare.gauge));
  });

  it('counts an inverter at its cut-out: 2,000 W at 85 % and 10.5 V draw 224 A', () => {
    const inverter = { ...run, inverterPower: q('2,000 W') };
    const found = unwrap(wireGauge(inverter));
    expect(found.current.value).toBeCloseTo(2000 / 0.85 / 10.5, 9);
    expect(found.gauge).toBe('2/0');
    expect(found.assumed).toContain('inverterCutout: 10.5 V');
    const at = (cutout: string, efficiency: string) =>
      unwrap(wireGauge({ ...inverter, inverterCutout: q(cutout), inverterEfficiency: q(efficiency) })).current.value;
    expect(at('10 V', '85 %')).toBeGreaterThan(at('11 V', '85 %'));
    expect(at('10.5 V', '80 %')).toBeGreaterThan(at('10.5 V', '90 %'));
    expect(unwrap(wireGauge({ ...inverter, voltage: q('24 V') })).assumed).toContain('inverterCutout: 21 V');
    expect(unwrap(wireGauge({ ...inverter, voltage: q('24 V') })).current.value).toBeCloseTo(2000 / 0.85 / 21, 9);
    // Against the voltage that is there: 3 % of 10.5 V.
    const { drop } = unwrap(wireGauge({ ...inverter, length: q('10 ft'), dropMax: q('3 %') }));
    expect(drop.value).toBeLessThanOrEqual(0.03 * 10.5);
  });

  it('takes the next gauge where no standard fuse lies between load and ampacity', () => {
    // 6 AWG enclosed at 60 °C carries 55 A: 44 A continuous counts 55, and a 55 A fuse is not made; 50 A does not hold it.
    const found = (current: string) =>
      unwrap(wireGauge({ ...run, laying: 'enclosed', insulation: '60', current: q(current) }));
    expect(found('40 A')).toMatchObject({ gauge: '6', fuse: { low: q('50 A'), high: q('50 A') } });
    expect(found('44 A')).toMatchObject({ gauge: '4', fuse: { low: q('60 A'), high: q('70 A') } });
  });

  it('is limited by the drop where the run is long', () => {
    const long = unwrap(wireGauge({ ...run, current: q('12 A'), length: q('30 ft') }));
    expect(long).toMatchObject({ gauge: '10', limitedBy: 'the voltage drop' });
    // Copper of 105 °C insulation counts at 105 °C: 1.24 Ω/kft · 1.0969.
    expect(long.drop.value).toBeCloseTo(0.8928 * (1 + 0.00323 * 30), 6);
    const tooLong = wireGauge({ ...run, current: q('12 A'), length: q('190 ft'), dropMax: q('1 %') });
    expect([codeOf(tooLong), whereOf(tooLong)]).toEqual(['power.no-wire', 'length']);
    const tooMuch = wireGauge({ ...run, current: q('500 A') });
    expect([codeOf(tooMuch), whereOf(tooMuch)]).toEqual(['power.no-wire', 'current']);
  });

  it('refuses what is no circuit, and says which field', () => {
    const faults = (change: object) => whereOf(wireGauge({ ...run, current: q('10 A'), ...change }));
    expect(faults({ current: q('0 A') })).toBe('current');
    expect(faults({ current: q('-5 A') })).toBe('current');
    expect(faults({ length: q('0 ft') })).toBe('length');
    expect(faults({ voltage: q('120 V') })).toBe('voltage');
    expect(faults({ voltage: q('50 V') })).toBe('ok');
    expect(faults({ voltage: q('0 V') })).toBe('voltage');
    expect(faults({ dropMax: q('0 %') })).toBe('dropMax');
    expect(faults({ dropMax: q('20 %') })).toBe('ok');
    expect(faults({ dropMax: q('21 %') })).toBe('dropMax');
    expect(faults({ together: 1 })).toBe('together');
    expect(faults({ together: 2.5 })).toBe('together');
    expect(faults({ ambient: q('105 °C') })).toBe('ambient');
    expect(faults({ ambient: q('-61 °C') })).toBe('ambient');
    expect(faults({ inverterPower: q('100 W') })).toBe('current');
    expect(faults({ current: undefined })).toBe('current');
    const inverter = (change: object) => whereOf(wireGauge({ ...run, inverterPower: q('300 W'), ...change }));
    expect(inverter({ inverterPower: q('0 W') })).toBe('inverterPower');
    expect(inverter({ inverterCutout: q('5.9 V') })).toBe('inverterCutout');
    expect(inverter({ inverterCutout: q('6 V') })).toBe('ok');
    expect(inverter({ inverterCutout: q('13.2 V') })).toBe('ok');
    expect(inverter({ inverterCutout: q('13.5 V') })).toBe('inverterCutout');
    expect(inverter({ inverterEfficiency: q('49 %') })).toBe('inverterEfficiency');
    expect(inverter({ inverterEfficiency: q('50 %') })).toBe('ok');
    expect(inverter({ inverterEfficiency: q('101 %') })).toBe('inverterEfficiency');
  });

  it('never gives a wire that may carry less than its load, nor a fuse above the wire', () => {
    fc.assert(
      fc.property(
        anyRun,
        fc.double({ min: 0.1, max: 400, noNaN: true }),
        fc.double({ min: 0.1, max: 60, noNaN: true }),
        (wireRun, amps, feet) => {
          const asked = { ...wireRun, current: quantity(amps, 'A'), length: quantity(feet, 'ft'), dropMax: q('5 %') };
          const found = wireGauge(asked);
          if (!found.ok) return;
          const { gauge, ampacity, fuse, drop } = found.value;
          expect(ampacity.value).toBeGreaterThanOrEqual(amps * (wireRun.continuous ? 1.25 : 1));
          expect(fuse.high.value).toBeLessThanOrEqual(ampacity.value);
          expect(fuse.low.value).toBeGreaterThanOrEqual(amps * (wireRun.continuous ? 1.25 : 1));
          expect(drop.value).toBeLessThanOrEqual(0.6);
          // The checker agrees with the chooser, and finds the next thinner one wanting.
          const check = (one: string) => wireDrop({ ...asked, gauge: one });
          expect(unwrap(check(gauge)).verdict).toBe('carries');
          const thinner = wires[rank(gauge) - 1];
          if (thinner === undefined) return;
          const less = check(thinner.gauge);
          expect(less.ok && less.value.verdict === 'carries' && less.value.drop.value <= 0.6 * (1 - 1e-9)).toBe(false);
        },
      ),
    );
  });

  it('is never thinner for more current, more heat, more wires beside it, poorer insulation or less loss', () => {
    fc.assert(
      fc.property(
        anyRun,
        fc.double({ min: 0.5, max: 120, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (wireRun, amps, factor) => {
          const asked = { ...wireRun, current: quantity(amps, 'A'), length: q('3 ft'), dropMax: q('10 %') };
          const plain = wireGauge(asked);
          const thickness = (result: Result<{ readonly gauge: string }>) => (result.ok ? rank(result.value.gauge) : 99);
          const celsius = asked.ambient.value;
          for (const worse of [
            { current: quantity(amps * factor, 'A') },
            { ambient: quantity(celsius + 10 * factor, 'degC') },
            { together: Math.ceil(wireRun.together * factor) },
            { dropMax: quantity(10 / factor, '%') },
            { length: quantity(3 * factor, 'ft') },
            { continuous: true },
            { laying: 'enclosed' as const },
          ])
            expect(thickness(wireGauge({ ...asked, ...worse }))).toBeGreaterThanOrEqual(thickness(plain));
        },
      ),
    );
  });
});

describe('wireDrop', () => {
  const load = { ...OPEN, current: q('12 A'), length: q('30 ft'), gauge: '12' };

  it('drops with length, current and heat of the copper', () => {
    const plain = unwrap(wireDrop({ ...load, temperature: q('75 °C') }));
    expect(plain.drop.value).toBeCloseTo(1.4256, 9);
    expect(plain.voltageAtLoad.value).toBeCloseTo(12 - 1.4256, 9);
    expect(plain.loss.value).toBeCloseTo(12 * 1.4256, 9);
    expect(unwrap(wireDrop({ ...load, length: q('9.144 m'), temperature: q('75 °C') })).drop.value).toBeCloseTo(
      1.4256,
      9,
    );
    expect(unwrap(wireDrop({ ...load, temperature: q('20 °C') })).drop.value).toBeLessThan(1.4256);
    expect(unwrap(wireDrop(load)).assumed).toContain('temperature: copper at 105 °C');
    expect(unwrap(wireDrop({ ...load, insulation: '60', gauge: '8' })).assumed).toContain(
      'temperature: copper at 75 °C',
    );
    expect(codeOf(wireDrop({ ...load, length: q('0 ft') }))).toBe('power.circuit');
    expect(codeOf(wireDrop({ ...load, gauge: '18', length: q('300 ft') }))).toBe('power.wire-too-thin');
    expect(codeOf(wireDrop({ ...load, gauge: '11' }))).toBe('power.wire-gauge');
    expect(codeOf(wireDrop({ ...load, temperature: q('151 °C') }))).toBe('power.wire-temperature');
    expect(codeOf(wireDrop({ ...load, temperature: q('-61 °C') }))).toBe('power.wire-temperature');
    expect(codeOf(wireDrop({ ...load, temperature: q('150 °C') }))).toBe('ok');
  });

  it('says overloaded first of all, and in capitals', () => {
    // 8 AWG in the open, 105 °C: 80 A (33 CFR 183.425).
    const hot = unwrap(wireDrop({ ...load, gauge: '8', length: q('1 ft'), current: q('200 A') }));
    expect(hot).toMatchObject({ verdict: 'overloaded', ampacity: q('80 A'), limitedBy: 'what the wire may carry' });
    expect(hot.cautions[0]).toMatch(/^OVERLOADED: 200 A .* 80 A/);
    const at = (current: string, continuous = true) =>
      unwrap(wireDrop({ ...load, gauge: '8', length: q('1 ft'), current: q(current), continuous }));
    expect(at('80.1 A').verdict).toBe('overloaded');
    expect(at('80 A').verdict).toBe('no-reserve');
    expect(at('80 A').cautions[0]).toMatch(/^No reserve: 100 A counted .* 80 A/);
    expect(at('64.1 A').verdict).toBe('no-reserve');
    expect(at('64 A').verdict).toBe('carries');
    expect(at('80 A', false).verdict).toBe('carries');
    expect(at('64 A').cautions[0]).toMatch(/^The fuse/);
    expect(at('64 A').fuseMax).toEqual(q('80 A'));
  });

  it('cautions over 10 % lost', () => {
    const share = (length: string) =>
      unwrap(wireDrop({ ...load, gauge: '10', length: q(length), temperature: q('75 °C') }));
    expect(share('40.4 ft').share.value).toBeGreaterThan(10);
    expect(share('40.4 ft').cautions.join()).toContain('More than 10 %');
    expect(share('40.2 ft').cautions.join()).not.toContain('More than 10 %');
  });

  it('has no fuse for a wire in heat it does not stand', () => {
    const hot = unwrap(wireDrop({ ...load, gauge: '10', ambient: q('86 °C'), current: q('1 A'), length: q('1 ft') }));
    expect(hot).toMatchObject({ verdict: 'overloaded', ampacity: q('0 A'), fuseMax: null });
  });
});

describe('fuses', () => {
  it('round down for the wire, up for the load', () => {
    expect([fuseFor(0.9), fuseFor(1), fuseFor(55), fuseFor(80), fuseFor(1000)]).toEqual([null, 1, 50, 80, 400]);
    expect([fuseHolding(0.2), fuseHolding(55), fuseHolding(60), fuseHolding(401)]).toEqual([1, 60, 60, null]);
    expect(FUSES.every((size, i) => i === 0 || size > FUSES[i - 1]!)).toBe(true);
  });
});
