/** The calculations of the tires room: one pressure in other air, and what a speed asks. */

import * as z from 'zod/mini';
import {
  COLD_PRESSURE,
  ELEVATION,
  GAUGE_READING,
  ROAD_SPEED,
  TIRE_FAMILIES,
  TIRE_TEMPERATURE,
  tirePressureAt,
  tireSetNow,
  tireSpeed,
} from '../../tires/index.ts';
import { answer, type Calculation, define, out, q } from '../calculation.ts';
import { COLD } from './tires.ts';

export const tireAirCalculations: readonly Calculation[] = [
  define({
    id: 'tire-pressure-at',
    title: 'One pressure, another place',
    room: 'tires',
    summary: 'What a tire set here will show there, with the change of temperature and height.',
    input: z.strictObject({
      gauge: q('pressure', 'gauge pressure now', GAUGE_READING),
      temperature: q('temperature', 'temperature of the tire now', TIRE_TEMPERATURE),
      elevation: z.optional(q('length', 'height above sea level now; sea level where not given', ELEVATION)),
      toTemperature: z.optional(q('temperature', 'temperature there; the same where not given', TIRE_TEMPERATURE)),
      toElevation: z.optional(q('length', 'height there; the same where not given', ELEVATION)),
    }),
    output: answer({ gauge: out('pressure', 'gauge pressure there') }),
    cautions: [COLD, 'A real tire gives a little: the true change is slightly smaller.'],
    sources: [
      { text: 'gas law at constant volume', kind: 'physics' },
      { text: 'U.S. Standard Atmosphere 1976', kind: 'standard' },
    ],
    formula: 'p₂ = (p₁ + air₁) · T₂/T₁ − air₂, absolute temperatures',
    range: '−60 to 85 °C; −600 to 9,000 m',
    envelope: {
      minimum: 'a gauge pressure of zero or more, and temperatures that air has',
      floor: 'none: below zero means lower than the air outside, and is said to be a flat tire',
      reserve: 'none: physics, not a limit',
      ceiling: 'readings to 150 psi; the answer is not held against a sidewall, which tire-set-now does',
      rounding: 'none: the exact law; a real tire changes slightly less',
      laws: [
        { input: 'gauge', worse: 'less', output: 'gauge', severer: 'lesser' },
        { input: 'toTemperature', worse: 'more', output: 'gauge', severer: 'greater' },
        { input: 'toTemperature', worse: 'less', output: 'gauge', severer: 'lesser' },
        { input: 'toElevation', worse: 'more', output: 'gauge', severer: 'greater' },
      ],
    },
    example: {
      input: {
        gauge: '65 psi',
        temperature: '70 °F',
        elevation: '0 ft',
        toTemperature: '70 °F',
        toElevation: '5,000 ft',
      },
      output: { gauge: { value: 67.47, unit: 'psi' } },
    },
    run: tirePressureAt,
  }),
  define({
    id: 'tire-set-now',
    title: 'What to set now for a target there',
    room: 'tires',
    summary: 'What the gauge must show here, so that the tire has its target pressure where it will run.',
    input: z.strictObject({
      target: q('pressure', 'pressure wanted there', GAUGE_READING),
      targetTemperature: q('temperature', 'temperature of the tire there, cold', TIRE_TEMPERATURE),
      targetElevation: q('length', 'height above sea level there', ELEVATION),
      temperature: q('temperature', 'temperature of the tire now', TIRE_TEMPERATURE),
      elevation: q('length', 'height above sea level now', ELEVATION),
      sidewallMax: z.optional(q('pressure', 'highest cold pressure of the sidewall', COLD_PRESSURE)),
      wheelMax: z.optional(q('pressure', 'highest cold pressure of the wheel and its valve', COLD_PRESSURE)),
    }),
    output: answer({ gauge: out('pressure', 'what to set now') }),
    cautions: [COLD, 'Never above the sidewall’s, wheel’s or valve’s maximum, here or there.'],
    sources: [
      { text: 'gas law at constant volume', kind: 'physics' },
      { text: 'U.S. Standard Atmosphere 1976', kind: 'standard' },
    ],
    formula: 'p = (target + air_there) · T/T_there − air_here',
    range: '−60 to 85 °C; −600 to 9,000 m',
    envelope: {
      minimum: 'a target of zero or more, and temperatures that air has',
      floor: 'none of its own: an answer below the target says that the tire is soft until it is there',
      reserve: 'none: the target brings its own',
      ceiling: 'sidewall and wheel, here and there: an answer or a target above them is refused',
      rounding: 'none: the exact law',
      laws: [
        { input: 'temperature', worse: 'more', output: 'gauge', severer: 'greater' },
        { input: 'targetTemperature', worse: 'less', output: 'gauge', severer: 'greater' },
      ],
    },
    example: {
      input: {
        target: '70.26 psi',
        targetTemperature: '90 °F',
        targetElevation: '0 ft',
        temperature: '40 °F',
        elevation: '5,000 ft',
        sidewallMax: '95 psi',
        wheelMax: '110 psi',
      },
      output: { gauge: { value: 65, unit: 'psi' } },
    },
    run: tireSetNow,
  }),
  define({
    id: 'tire-speed',
    title: 'Speed, pressure and load',
    room: 'tires',
    summary: 'Whether a speed is allowed, and what it asks of pressure and load.',
    input: z.strictObject({
      family: z.enum(TIRE_FAMILIES).check(z.describe('letters before the size')),
      speed: q('speed', 'highest speed of the trip', ROAD_SPEED),
      speedSymbol: z.optional(z.string().check(z.describe('letter after the load index, where there is one'))),
      pressure: q('pressure', 'cold pressure the load needs', COLD_PRESSURE),
      pressureMax: q('pressure', 'lowest of the sidewall’s, wheel’s and valve’s maximum', COLD_PRESSURE),
    }),
    output: answer({
      allowed: z.boolean().check(z.describe('whether that speed is allowed')),
      limit: out('speed', 'highest speed'),
      pressure: out('pressure', 'cold pressure for that speed'),
      loadShare: z.number().check(z.describe('share of the table’s load that counts')),
    }),
    cautions: ['The tow vehicle’s and the trailer’s handbooks may ask for less; so may the law.'],
    sources: [
      {
        text: 'ST tires at 65 mph unless marked; 66 to 75 mph with 10 psi more: Tire and Rim Association ST-M1 and a tire maker’s bulletin of 2011',
        kind: 'standard',
      },
      {
        text: '76 to 85 mph with 10 psi more and 10 % less load, where the symbol allows: the association, as posted by a tire engineer',
        kind: 'handbook',
      },
      { text: 'speed symbols of ISO 4000-1 and ETRTO (A8 to K from memory)', kind: 'standard' },
    ],
    formula: 'table rule; the speed symbol caps everything',
    range: 'ST tires with or without a symbol; others only with theirs',
    envelope: {
      minimum: 'a speed above zero; for other than ST tires the speed symbol',
      floor: 'the cold pressure that the load needs',
      reserve: '10 psi more above 65 mph, 10 % less load above 75 mph (ST)',
      ceiling:
        'the maximum of wheel, valve and sidewall, else 65 mph; the symbol; 85 mph, the most any public road allows',
      rounding: 'none: the steps of the rule',
      laws: [
        { input: 'speed', worse: 'more', output: 'allowed', severer: [true, false] },
        { input: 'speed', worse: 'more', output: 'loadShare', severer: 'lesser' },
        { input: 'pressureMax', worse: 'less', output: 'limit', severer: 'lesser' },
        { input: 'pressure', worse: 'more', output: 'limit', severer: 'lesser' },
      ],
    },
    example: {
      input: { family: 'ST', speed: '70 mph', pressure: '65 psi', pressureMax: '80 psi' },
      output: { allowed: true, limit: { value: 75, unit: 'mph' }, pressure: { value: 75, unit: 'psi' }, loadShare: 1 },
    },
    run: tireSpeed,
  }),
];
