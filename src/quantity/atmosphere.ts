/**
 * The pressure of the air at a height, which every gauge pressure is measured against.
 *
 * Source: U.S. Standard Atmosphere 1976 (NOAA, NASA, USAF), troposphere: 288.15 K and 101,325 Pa at sea level, 6.5 K a
 * kilometre, standard gravity 9.80665 m/s², air of 28.9644 g/mol, gas constant 8.31432 J/(mol·K), earth radius
 * 6,356,766 m. Weather moves the true value by about ±2 %.
 */

import { power } from '../elementary/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from './convert.ts';

const SEA_LEVEL_KELVIN = 288.15;
const SEA_LEVEL_PASCAL = 101_325;
const LAPSE_KELVIN_A_METRE = 0.0065;
const EXPONENT = (9.80665 * 0.0289644) / (8.31432 * LAPSE_KELVIN_A_METRE);
const EARTH_RADIUS_METRES = 6_356_766;

/** Lowest road and highest pass with room to spare; the formula itself holds from below the sea to 11 km. */
const ELEVATION_MIN_METRES = -600;
const ELEVATION_MAX_METRES = 9000;

/** Air pressure in pascal at a geopotential height in metres (−600 m to 11,000 m). */
export function pascalAtGeopotential(metres: number): number {
  return SEA_LEVEL_PASCAL * power(1 - (LAPSE_KELVIN_A_METRE * metres) / SEA_LEVEL_KELVIN, EXPONENT);
}

/** Air pressure in pascal at a height above sea level as a map gives it, metres. */
export function pascalAtElevation(metres: number): number {
  return pascalAtGeopotential((EARTH_RADIUS_METRES * metres) / (EARTH_RADIUS_METRES + metres));
}

/**
 * Standard air pressure (absolute) at an elevation, in the unit system of the elevation.
 *
 * @returns the pressure, or `atmosphere.elevation` where no road goes (below −600 m, above 9,000 m)
 * @example atmosphere({ value: 5000, unit: 'ft' }) // 12.23 psi
 */
export function atmosphere(elevation: Quantity): Result<Quantity> {
  const metres = valueIn(elevation, 'm');
  if (metres < ELEVATION_MIN_METRES || metres > ELEVATION_MAX_METRES) {
    return fail({
      code: 'atmosphere.elevation',
      what: 'No road lies at that height.',
      expected: 'an elevation between −600 m (−1,969 ft) and 9,000 m (29,528 ft)',
    });
  }
  const pascal = quantity(pascalAtElevation(metres), 'Pa');
  const us = elevation.unit === 'ft' || elevation.unit === 'mi' || elevation.unit === 'yd';
  return ok(us ? quantity(valueIn(pascal, 'psi'), 'psi') : quantity(valueIn(pascal, 'kPa'), 'kPa'));
}
