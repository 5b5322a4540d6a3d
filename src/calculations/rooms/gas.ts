/** The calculations of the gas room. */

import * as z from 'zod/mini';
import {
  coAlarm,
  cylinderContent,
  cylinderFill,
  LEAK_METHODS,
  LEAK_VERDICTS,
  leakDrop,
  vaporization,
  vaporPressure,
} from '../../gas/index.ts';
import { range } from '../../quantity/index.ts';
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
    title: 'Did a pressure test of the gas hold',
    room: 'gas',
    summary:
      'Whether a test by a published method held, and from a drop how large the leak is. Less than the method is no test.',
    input: z.strictObject({
      method: z
        .enum(LEAK_METHODS)
        .check(
          z.describe(
            'appliances-connected: 10 to 14 in. w.c., 10 min; regulator-unlocked: 9 in. w.c., 3 min; piping-alone: 10 psi, 15 min, appliances and regulators off',
          ),
        ),
      startPressure: q('pressure', 'at the start, on the gauge', range(0, 60, 'psi')),
      drop: q('pressure', 'pressure lost; 0 where it held', range(-60, 60, 'psi')),
      time: q('time', 'from start to end', range(1, 172_800, 's')),
      gaugeStep: q('pressure', 'smallest change to be seen on the gauge', range(0, 10, 'psi')),
      steady: z
        .boolean()
        .check(z.describe('burners and pilots off, air and pipe at one temperature, no sun on them, all the while')),
      volume: z.optional(
        q('volume', 'inside volume of the piping: 0.1 ft³ for 100 ft of 3/8 in tube', range(0, 10, 'ft3')),
      ),
      elevation: z.optional(
        q('length', 'height above sea level; sea level where not given', range(-1500, 15_000, 'ft')),
      ),
    }),
    output: answer({
      verdict: z.enum(LEAK_VERDICTS).check(z.describe('held, not a test (neither passed nor failed), or leaks')),
      missing: z.array(z.string()).check(z.describe('what is missing to be a test of the method')),
      leak: z.nullable(out('flow', 'leak; null without the volume')),
      heat: z.nullable(out('power', 'the same as propane')),
      hidden: z.nullable(out('power', 'leak that moves the gauge by less than its smallest step')),
    }),
    cautions: [FITTER],
    sources: [
      { text: 'gas law', kind: 'physics' },
      { text: 'no drop in 10 minutes at 10 to 14 in. w.c.: Washington WAC 296-150C-1460', kind: 'regulation' },
      { text: 'no drop in 15 minutes at 10 psi, gauge to 0.1 psi: WAC 296-150V-1450', kind: 'regulation' },
      {
        text: 'no drop at 9 ± 1/2 in. w.c.: NFPA 54 annex C, as described in a trade magazine of 2016',
        kind: 'standard',
      },
      { text: '3 minutes at 9 in. w.c.', kind: 'standard', tag: 'memory' },
      { text: 'no sun or heat on the pipe: a heater maker’s manual of 2019', kind: 'handbook' },
      { text: 'a manometer shows 0.2 in. w.c.', kind: 'common practice' },
    ],
    formula: 'V · Δp/(air · t)',
    range: 'after the regulator, by one of three published methods',
    envelope: {
      minimum: 'the method’s start pressure, its minutes, its gauge and a steady temperature; less is no test',
      floor: 'any drop is a leak, by any method and in any time',
      reserve: 'none: nothing may be lost',
      ceiling: '14 in. w.c. on connected appliances, 30 psi on piping alone; more is no test',
      rounding: 'the leak that the gauge can hide is given with the answer',
      laws: [
        { input: 'time', worse: 'less', output: 'verdict', severer: LEAK_VERDICTS },
        { input: 'time', worse: 'less', output: 'hidden', severer: 'greater' },
        { input: 'drop', worse: 'more', output: 'verdict', severer: LEAK_VERDICTS },
        { input: 'drop', worse: 'more', output: 'leak', severer: 'greater' },
        { input: 'volume', worse: 'more', output: 'hidden', severer: 'greater' },
        { input: 'gaugeStep', worse: 'more', output: 'verdict', severer: LEAK_VERDICTS },
        { input: 'gaugeStep', worse: 'more', output: 'hidden', severer: 'greater' },
        { input: 'steady', worse: [true, false], output: 'verdict', severer: LEAK_VERDICTS },
      ],
    },
    example: {
      input: {
        method: 'appliances-connected',
        startPressure: '11 in. w.c.',
        drop: '0 in. w.c.',
        time: '10 min',
        gaugeStep: '0.1 in. w.c.',
        steady: true,
        volume: '0.05 ft³',
      },
      output: {
        verdict: 'held',
        missing: [],
        leak: { value: 0, unit: 'ft3/h' },
        hidden: { value: 0.18, unit: 'BTU/h' },
      },
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
