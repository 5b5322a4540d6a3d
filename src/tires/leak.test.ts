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
    expect(leak.holdsUntil).toBe('2026-07-23');
    expect(leak.cautions.join()).toContain('nail');
    expect(codeOf(tireLeak({ readings: readings.slice(0, 1) }))).toBe('tire.readings');
  });
});
