import { describe, expect, it } from 'vitest';
import { codeOf, q } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { tireSpeed } from './speed.ts';

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
