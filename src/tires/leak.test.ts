import { describe, expect, it } from 'vitest';
import { codeOf, q } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { tireLeak } from './leak.ts';
import { gaugeAt } from './pressure.ts';

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
    // 2 psi a week, and 0.5 more that a gauge off by 1 psi (common practice) leaves open over four weeks: 7 psi last 19 days.
    expect(leak.rate.value).toBeLessThan(2.01);
    expect(leak.holdsUntil).toBe('2026-07-18');
    expect(leak.cautions.join()).toContain('nail');
    expect(codeOf(tireLeak({ readings: readings.slice(0, 1) }))).toBe('tire.readings');
  });

  it('says that it is under its floor, rather than that it does not leak', () => {
    const low = unwrap(
      tireLeak({ readings: [reading('2026-06-01', '52 psi'), reading('2026-06-08', '52 psi')], floor: q('55 psi') }),
    );
    expect(low.holdsUntil).toBe('2026-06-08');
    expect(low.cautions[0]).toContain('under its floor already');
    const at = unwrap(
      tireLeak({ readings: [reading('2026-06-01', '55 psi'), reading('2026-06-08', '55 psi')], floor: q('55 psi') }),
    );
    expect(at.holdsUntil).toBe('2026-06-08');
    expect(at.cautions.join()).not.toContain('under its floor');
  });

  it('counts on the fastest loss that the gauge allows, also where no loss was read', () => {
    // Two readings four weeks apart, alike: a gauge off by 1 psi each time hides 2 psi in 28 days; 10 psi last 140 days.
    const still = unwrap(
      tireLeak({ readings: [reading('2026-06-01', '65 psi'), reading('2026-06-29', '65 psi')], floor: q('55 psi') }),
    );
    expect(still.rate.value).toBeCloseTo(0, 9);
    expect(still.rateRange.high.value).toBeCloseTo(0.5, 9);
    expect(still.holdsUntil).toBe('2026-11-16');
    expect(codeOf(tireLeak({ readings: [], floor: q('1e308 psi') }))).toBe('quantity.out-of-range');
  });
});
