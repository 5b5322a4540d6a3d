/** The calculations of the gas room. */

import * as z from 'zod/mini';
import { coAlarm, cylinderContent, cylinderFill, leakDrop, vaporization, vaporPressure } from '../../gas/index.ts';
import { answer, bounds, type Calculation, type CalculationSource, define, out, q } from '../calculation.ts';

const PROPANE: CalculationSource = {
  text: 'propane: 4.24 lb a gallon, 21,548 BTU a pound, 91,502 BTU a gallon, 2,488 BTU a cubic foot (published tables)',
  kind: 'handbook',
};
const FITTER = 'Work on gas lines and regulators is for a licensed gas fitter.';

export const gasCalculations: readonly Calculation[] = [
  define({
    id: 'cylinder-content',
    title: 'What is left in a cylinder',
    room: 'gas',
    summary: 'Propane, heat and hours from a scale and the tare on the collar.',
    input: z.strictObject({
      scale: q('mass', 'what the scale shows'),
      tare: q('mass', 'TW on the collar'),
      hardware: z.optional(q('mass', 'hook or hose that hung along')),
      nominal: z.optional(q('mass', 'size of the cylinder: 20 lb, 30 lb')),
      draw: z.optional(q('power', 'heat of what burns together')),
    }),
    output: answer({
      propane: out('mass', 'propane left'),
      volume: out('volume', 'as liquid'),
      energy: out('energy', 'as heat'),
      time: z.nullable(out('time', 'at that draw')),
      fill: z.nullable(out('ratio', 'of what it may hold')),
      uncertainty: z
        .strictObject({ propane: bounds('mass', 'propane left') })
        .check(z.describe('what the scale leaves open')),
    }),
    cautions: ['A cylinder past its requalification date may be used up, not filled.'],
    sources: [PROPANE, { text: 'scale error of half a pound', kind: 'common practice' }],
    formula: 'scale − tare − hardware; · 21,548 BTU/lb; / draw',
    range: 'steel and aluminium cylinders with TW on the collar',
    example: {
      input: { scale: '29.5 lb', tare: '17.0 lb', draw: '30,000 BTU/h' },
      output: {
        propane: { value: 12.5, unit: 'lb' },
        volume: { value: 2.948, unit: 'gal' },
        energy: { value: 269350, unit: 'BTU' },
        time: { value: 8.978, unit: 'h' },
      },
    },
    run: cylinderContent,
  }),
  define({
    id: 'cylinder-fill',
    title: 'What a cylinder may hold',
    room: 'gas',
    summary: 'The most propane, from the water capacity on the collar.',
    input: z.strictObject({ waterCapacity: q('mass', 'WC on the collar') }),
    output: answer({
      propaneMax: out('mass', '42 % of the water capacity'),
      energy: out('energy', 'as heat'),
      propaneAt80: out('mass', 'at the 80 % stop'),
    }),
    cautions: [FITTER],
    sources: [
      PROPANE,
      { text: '42 % by weight: 49 CFR 173.304a, NFPA 58', kind: 'regulation', tag: 'memory' },
      { text: '80 % by volume', kind: 'standard' },
    ],
    formula: '0.42 · WC; 0.8 · WC/8.338 · 4.24',
    range: 'DOT cylinders in LP-gas service',
    example: {
      input: { waterCapacity: '47.6 lb' },
      output: { propaneMax: { value: 19.99, unit: 'lb' }, propaneAt80: { value: 19.36, unit: 'lb' } },
    },
    run: cylinderFill,
  }),
  define({
    id: 'vapor-pressure',
    title: 'Pressure in a propane cylinder',
    room: 'gas',
    summary: 'Saturation pressure at the temperature of the liquid.',
    input: z.strictObject({
      temperature: q('temperature', 'of the liquid'),
      elevation: z.optional(q('length', 'height above sea level; sea level where not given')),
    }),
    output: answer({
      gauge: out('pressure', 'gauge pressure, pure propane'),
      gaugeCommercial: bounds('pressure', 'commercial propane runs up to 30 psi higher'),
      absolute: out('pressure', 'absolute'),
    }),
    cautions: ['A cylinder in a hot closed car or near a fire can open its relief valve: upright, outside, shaded.'],
    sources: [
      {
        text: 'saturation equation of Lemmon, McLinden and Wagner (2009); coefficients confirmed at the published boiling point',
        kind: 'standard',
        tag: 'memory',
      },
      { text: 'commercial propane 10 to 30 psi above pure: published tables', kind: 'handbook' },
    ],
    formula:
      'ln(p/4.2512 MPa) = (369.89 K/T)·(−6.7722θ + 1.6938θ^1.5 − 1.3341θ^2.2 − 3.1876θ^4.8 + 0.94937θ^6.2), θ = 1 − T/369.89 K',
    range: '−73 to 67 °C',
    example: {
      input: { temperature: '70 °F' },
      output: { gauge: { value: 110.21, unit: 'psi' }, absolute: { value: 124.91, unit: 'psi' } },
    },
    run: vaporPressure,
  }),
  define({
    id: 'vaporization',
    title: 'Does the cold let the gas out',
    room: 'gas',
    summary: 'The heat a cylinder gives without end at its fill and temperature, against the draw.',
    input: z.strictObject({
      cylinder: z.enum(['100 lb', 'other']).check(z.describe('100 lb has a published chart; others a rule of thumb')),
      fill: q('ratio', 'what is in it, as a share of its size'),
      temperature: q('temperature', 'air around it'),
      diameter: z.optional(q('length', 'outside diameter, for other sizes')),
      length: z.optional(q('length', 'overall length, for other sizes')),
      draw: z.optional(q('power', 'heat of what burns together')),
    }),
    output: answer({
      continuous: out('power', 'heat it gives without end'),
      holds: z.nullable(z.boolean()).check(z.describe('covers the draw; null where none was given')),
      basis: z.enum(['chart', 'rule-of-thumb']).check(z.describe('what it rests on')),
    }),
    cautions: [],
    sources: [
      { text: 'a burner maker’s chart for 100 lb cylinders', kind: 'handbook' },
      { text: 'a motorhome maker’s manual of 2004: multipliers below 0 °F', kind: 'handbook' },
      { text: 'serviceman’s rule D·L·K for other sizes', kind: 'common practice', tag: 'memory' },
    ],
    formula: 'chart, or D·L·K at 0 °F times the share for the temperature; where sources differ the lower',
    range: '−44 to 130 °F; no table for 20, 30 or 40 lb cylinders is published',
    example: {
      input: {
        cylinder: 'other',
        fill: '60 %',
        temperature: '0 °F',
        diameter: '12 in',
        length: '23 in',
        draw: '30,000 BTU/h',
      },
      output: { continuous: { value: 27600, unit: 'BTU/h' }, holds: false, basis: 'rule-of-thumb' },
    },
    run: vaporization,
  }),
  define({
    id: 'leak-drop',
    title: 'From a pressure drop to a leak',
    room: 'gas',
    summary: 'How large a leak is, from what a manometer lost in a time. Only no loss passes.',
    input: z.strictObject({
      volume: q('volume', 'inside volume of the piping under test'),
      drop: q('pressure', 'pressure lost'),
      time: q('time', 'over this time'),
      elevation: z.optional(q('length', 'height above sea level; sea level where not given')),
    }),
    output: answer({
      passed: z.boolean().check(z.describe('nothing was lost')),
      leak: out('flow', 'leak'),
      heat: out('power', 'the same as propane'),
    }),
    cautions: [FITTER],
    sources: [
      { text: 'gas law', kind: 'physics' },
      { text: 'no drop in 10 minutes at 10 to 14 in. w.c.: Washington WAC 296-150C-1460', kind: 'regulation' },
      { text: 'no drop at 9 in. w.c.: method of NFPA 54 annex C, as described in a trade magazine', kind: 'standard' },
    ],
    formula: 'V · Δp/(air · t)',
    range: 'low-pressure side, air and pipe at one temperature',
    example: {
      input: { volume: '0.05 ft³', drop: '1 in. w.c.', time: '3 min' },
      output: { passed: false, leak: { value: 0.00246, unit: 'ft3/h' }, heat: { value: 6.12, unit: 'BTU/h' } },
    },
    run: leakDrop,
  }),
  define({
    id: 'co-alarm',
    title: 'Should the carbon monoxide alarm have sounded',
    room: 'gas',
    summary: 'Whether it had to be silent, may sound, or must have sounded.',
    input: z.strictObject({ concentration: q('ratio', 'carbon monoxide, ppm'), time: q('time', 'for how long') }),
    output: answer({
      verdict: z.enum(['must-be-silent', 'may-sound', 'must-have-sounded']).check(z.describe('by the alarm points')),
    }),
    cautions: [],
    sources: [{ text: 'UL 2034 alarm points, three makers’ handbooks agreeing', kind: 'standard' }],
    formula: '30 ppm silent 30 days; 70 ppm 60–240 min; 150 ppm 10–50 min; 400 ppm 4–15 min',
    range: 'a steady concentration',
    example: { input: { concentration: '70 ppm', time: '240 min' }, output: { verdict: 'must-have-sounded' } },
    run: coAlarm,
  }),
];
