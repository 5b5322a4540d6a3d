import { describe, expect, it } from 'vitest';
import { codeOf, q } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { freeAirDelivery, inflate } from './inflate.ts';

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
