/** The calculations of the gas room. */

import * as z from 'zod/mini';
import {
  CO_ACTIONS,
  CO_VERDICTS,
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

/** Of what burns together: from a pilot flame to a large motor coach. */
const DRAW = range(50, 500_000, 'BTU/h');
const ELEVATION = range(-1500, 15_000, 'ft');

export const gasCalculations: readonly Calculation[] = [
  define({
    id: 'cylinder-content',
    title: 'What is left in a cylinder',
    room: 'gas',
    summary: 'Propane, heat and hours from a scale and the tare on the collar.',
    input: z.strictObject({
      scale: q('mass', 'what the scale shows', range(0, 1000, 'lb')),
      tare: q('mass', 'TW on the collar', range(1, 500, 'lb')),
      hardware: z.optional(q('mass', 'hook or hose that hung along', range(0, 100, 'lb'))),
      nominal: z.optional(q('mass', 'size of the cylinder: 20 lb, 30 lb', range(1, 420, 'lb'))),
      draw: z.optional(q('power', 'heat of what burns together', DRAW)),
    }),
    output: answer({
      propane: out('mass', 'propane left'),
      volume: out('volume', 'as liquid'),
      energy: out('energy', 'as heat'),
      time: z.nullable(out('time', 'at that draw')),
      fill: z.nullable(out('ratio', 'of what it may hold')),
      uncertainty: z
        .strictObject({
          propane: bounds('mass', 'propane left'),
          timeLeast: z.nullable(out('time', 'at that draw, from the least it may be')),
        })
        .check(z.describe('what the scale leaves open')),
    }),
    cautions: ['A cylinder past its requalification date may be used up, not filled.'],
    sources: [PROPANE, { text: 'scale error of half a pound', kind: 'common practice' }],
    formula: 'scale − tare − hardware; · 21,548 BTU/lb; / draw',
    range: 'steel and aluminum cylinders with TW on the collar',
    envelope: {
      minimum: 'a scale weight at or above the tare; half a pound under it counts as empty',
      floor: 'an empty cylinder',
      reserve: 'half a pound of scale error: the least time stands beside the time',
      ceiling: 'the size of the cylinder and half a pound: above it is over-filled and refused',
      rounding: 'none: shown figures only',
      laws: [
        { input: 'scale', worse: 'less', output: 'propane', severer: 'lesser' },
        { input: 'scale', worse: 'less', output: 'uncertainty.timeLeast', severer: 'lesser' },
        { input: 'tare', worse: 'more', output: 'propane', severer: 'lesser' },
        { input: 'draw', worse: 'more', output: 'time', severer: 'lesser' },
      ],
    },
    example: {
      input: { scale: '29.5 lb', tare: '17.0 lb', draw: '30,000 BTU/h' },
      output: {
        propane: { value: 12.5, unit: 'lb' },
        volume: { value: 2.948, unit: 'gal' },
        energy: { value: 269350, unit: 'BTU' },
        time: { value: 8.978, unit: 'h' },
        uncertainty: { timeLeast: { value: 8.619, unit: 'h' } },
      },
    },
    run: cylinderContent,
  }),
  define({
    id: 'cylinder-fill',
    title: 'What a cylinder may hold',
    room: 'gas',
    summary: 'The most propane, from the water capacity on the collar: by weight or by volume, whichever is less.',
    input: z.strictObject({ waterCapacity: q('mass', 'WC on the collar', range(1, 1000, 'lb')) }),
    output: answer({
      propaneMax: out('mass', 'the lower of both rules'),
      energy: out('energy', 'as heat'),
      propaneByWeight: out('mass', '42 % of the water capacity'),
      propaneAt80: out('mass', 'at the 80 % stop'),
    }),
    cautions: [FITTER],
    sources: [
      PROPANE,
      { text: '42 % by weight: 49 CFR 173.304a, NFPA 58', kind: 'regulation', tag: 'memory' },
      { text: '80 % by volume', kind: 'standard' },
    ],
    formula: 'least of 0.42 · WC and 0.8 · WC/8.338 · 4.24',
    range: 'DOT cylinders in LP-gas service',
    envelope: {
      minimum: 'a water capacity from 1 to 1,000 lb',
      floor: 'none',
      reserve: 'the fifth of the volume that stays empty',
      ceiling: 'the lower of 42 % by weight and 80 % by volume',
      rounding: 'none: shown figures only',
      laws: [{ input: 'waterCapacity', worse: 'less', output: 'propaneMax', severer: 'lesser' }],
    },
    example: {
      input: { waterCapacity: '47.6 lb' },
      output: {
        propaneMax: { value: 19.36, unit: 'lb' },
        propaneByWeight: { value: 19.99, unit: 'lb' },
        propaneAt80: { value: 19.36, unit: 'lb' },
      },
    },
    run: cylinderFill,
  }),
  define({
    id: 'vapor-pressure',
    title: 'Pressure in a propane cylinder',
    room: 'gas',
    summary: 'Saturation pressure at the temperature of the liquid.',
    input: z.strictObject({
      temperature: q('temperature', 'of the liquid', range(-99, 152, 'degF')),
      elevation: z.optional(q('length', 'height above sea level; sea level where not given', ELEVATION)),
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
    envelope: {
      minimum: 'the temperature of the liquid, not of the air above it',
      floor: 'pure propane: below its boiling point there is no gauge pressure and nothing burns',
      reserve: 'the 30 psi by which commercial propane may stand above it',
      ceiling: '152 °F: beyond any cylinder that may be kept',
      rounding: 'none: shown figures only',
      laws: [
        { input: 'temperature', worse: 'more', output: 'gaugeCommercial.high', severer: 'greater' },
        { input: 'temperature', worse: 'less', output: 'gauge', severer: 'lesser' },
        { input: 'elevation', worse: 'more', output: 'gaugeCommercial.high', severer: 'greater' },
      ],
    },
    example: {
      input: { temperature: '70 °F', elevation: '0 ft' },
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
      fill: q('ratio', 'what is in it, as a share of its size', range(0, 100, '%')),
      temperature: q('temperature', 'air around it', range(-100, 130, 'degF')),
      diameter: z.optional(q('length', 'outside diameter, for other sizes', range(1, 40, 'in'))),
      length: z.optional(q('length', 'overall length, for other sizes', range(1, 100, 'in'))),
      draw: z.optional(q('power', 'heat of what burns together', DRAW)),
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
    range: '−20 to 130 °F; colder nothing is promised. No table for 20, 30 or 40 lb cylinders is published',
    envelope: {
      minimum: 'a fill from empty to full; for other sizes diameter and length',
      floor: 'nothing under −20 °F: the last published row; none is left at −44 °F',
      reserve: 'none: an estimate that is cautioned as such',
      ceiling: 'the chart at 70 °F; the rule at 60 % full',
      rounding: 'the lower source, and the row in which warmth helps least',
      laws: [
        { input: 'temperature', worse: 'less', output: 'continuous', severer: 'lesser' },
        { input: 'temperature', worse: 'less', output: 'holds', severer: [true, false] },
        { input: 'fill', worse: 'less', output: 'continuous', severer: 'lesser' },
        { input: 'diameter', worse: 'less', output: 'continuous', severer: 'lesser' },
        { input: 'draw', worse: 'more', output: 'holds', severer: [true, false] },
      ],
    },
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
      elevation: z.optional(q('length', 'height above sea level; sea level where not given', ELEVATION)),
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
    title: 'Carbon monoxide: what to do, and should the alarm have sounded',
    room: 'gas',
    summary:
      'What people do at a concentration, and whether the alarm had to be silent, may sound, or must have sounded.',
    input: z.strictObject({
      concentration: q('ratio', 'carbon monoxide, ppm', range(0, 100_000, 'ppmv')),
      time: q('time', 'for how long', range(0, 365, 'd')),
    }),
    output: answer({
      action: z.enum(CO_ACTIONS).check(z.describe('for people, whatever the alarm does')),
      verdict: z.enum(CO_VERDICTS).check(z.describe('about the alarm, by its alarm points')),
    }),
    cautions: [],
    sources: [
      { text: 'UL 2034 alarm points, three makers’ handbooks agreeing', kind: 'standard' },
      {
        text: 'WHO Air Quality Guidelines for Europe, 2nd edition: 90 ppm 15 min, 50 ppm 30 min, 25 ppm 1 h, 10 ppm 8 h',
        kind: 'handbook',
      },
      { text: '5 ppm as the most of town air', kind: 'common practice' },
    ],
    formula: '30 ppm silent 30 days; 70 ppm 60–240 min; 150 ppm 10–50 min; 400 ppm 4–15 min; leave from 70 ppm at once',
    range: 'a steady concentration',
    envelope: {
      minimum: 'a concentration and a time of zero or more; symptoms outrank both',
      floor: 'more than 5 ppm indoors has a source and is looked for',
      reserve: 'people leave by the WHO times, long before the alarm must sound',
      ceiling: '70 ppm, the lowest alarm point: no time at all',
      rounding: 'between published concentrations the shorter time',
      laws: [
        { input: 'concentration', worse: 'more', output: 'action', severer: CO_ACTIONS },
        { input: 'time', worse: 'more', output: 'action', severer: CO_ACTIONS },
        { input: 'concentration', worse: 'more', output: 'verdict', severer: CO_VERDICTS },
        { input: 'time', worse: 'more', output: 'verdict', severer: CO_VERDICTS },
      ],
    },
    example: {
      input: { concentration: '35 ppm', time: '30 min' },
      output: { action: 'leave-now', verdict: 'must-be-silent' },
    },
    run: coAlarm,
  }),
];
