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

  it('passes no pressure that wheel, valve and sidewall do not hold, at any speed', () => {
    expect(codeOf(ask('55 mph', { pressure: q('81 psi') }))).toBe('tire.pressure-above-max');
    expect(unwrap(ask('55 mph', { pressure: q('80 psi') }))).toMatchObject({ allowed: true, pressure: q('80 psi') });
    // Ten psi more than 70 are just held, ten more than 71 are not (Tire and Rim Association ST-M1).
    expect(unwrap(ask('70 mph', { pressure: q('70 psi') }))).toMatchObject({ allowed: true, pressure: q('80 psi') });
    expect(unwrap(ask('70 mph', { pressure: q('71 psi') }))).toMatchObject({ allowed: false, limit: q('65 mph') });
    expect(unwrap(ask('75 mph'))).toMatchObject({ allowed: true, loadShare: 1 });
    expect(unwrap(ask('75.1 mph'))).toMatchObject({ allowed: false, loadShare: 0.9 });
    expect(unwrap(ask('86 mph', { speedSymbol: 'R' }))).toMatchObject({ allowed: false, limit: q('85 mph') });
  });

  it('names no speed that no public road allows, whatever the symbol (85 mph, from memory)', () => {
    const lt = (speed: string) => unwrap(ask(speed, { family: 'LT', speedSymbol: 'Q' }));
    expect(lt('75 mph')).toMatchObject({ allowed: true, limit: q('85 mph'), loadShare: 1 });
    expect(lt('90 mph').allowed).toBe(false);
    expect(unwrap(ask('75 mph', { family: 'LT', speedSymbol: 'L' })).limitedBy).toBe('the speed symbol');
    for (const speed of ['0 mph', '-5 mph']) expect(codeOf(ask(speed))).not.toBe('ok');
    expect(codeOf(ask('1e308 mph'))).toBe('quantity.out-of-range');
    expect(codeOf(ask('60 mph', { pressureMax: q('0 psi') }))).toBe('tire.gauge');
  });
});
