/** The calculations of the power room. */

import * as z from 'zod/mini';
import {
  batteryDays,
  breakaway,
  motorStart,
  outletBudget,
  peukert,
  socByGravity,
  socByVoltage,
} from '../../power/index.ts';
import { answer, bounds, type Calculation, define, out, q } from '../calculation.ts';
import { wireCalculations } from './wire.ts';

const charge = {
  stateOfCharge: out('ratio', 'state of charge'),
  uncertainty: z
    .strictObject({ stateOfCharge: bounds('ratio', 'state of charge') })
    .check(z.describe('what meter and rest leave open')),
  freezing: z.nullable(out('temperature', 'where it would freeze')),
};

export const powerCalculations: readonly Calculation[] = [
  define({
    id: 'soc-by-voltage',
    title: 'State of charge by rested voltage',
    room: 'power',
    summary: 'How full a 12 V battery is after a rest, with its doubt.',
    input: z.strictObject({
      voltage: q('electric-potential', 'across the posts, rested some hours'),
      chemistry: z.enum(['flooded', 'lifepo4']).check(z.describe('flooded lead-acid, or lithium iron phosphate')),
      cells: z.optional(
        z.int().check(z.positive(), z.lte(4), z.describe('12 V batteries in series; 1 where not given')),
      ),
    }),
    output: answer(charge),
    cautions: ['Batteries give off gas that explodes and hold acid: no spark, goggles, the negative post off first.'],
    sources: [
      { text: 'a battery maker’s table of rested volts at 80 °F (flooded)', kind: 'handbook' },
      { text: 'a web chart without a standard behind it (lithium): low confidence', kind: 'common practice' },
      { text: 'freezing points: a vehicle maker’s storage chart and a US Army manual', kind: 'handbook' },
    ],
    formula: 'straight lines between the rows',
    range: '12 V batteries, rested; voltage is not corrected for temperature, sources disagree',
    example: {
      input: { voltage: '12.55 V', chemistry: 'flooded' },
      output: { stateOfCharge: { value: 87.5, unit: '%' } },
    },
    run: socByVoltage,
  }),
  define({
    id: 'soc-by-gravity',
    title: 'State of charge by hydrometer',
    room: 'power',
    summary: 'How full a flooded cell is, corrected to 80 °F.',
    input: z.strictObject({
      gravity: z.number().check(z.describe('specific gravity as read: 1.225')),
      temperature: q('temperature', 'of the acid'),
    }),
    output: answer({ ...charge, gravityCorrected: z.number().check(z.describe('at 80 °F')) }),
    cautions: [],
    sources: [
      { text: 'a battery maker’s table; 0.004 for each 10 °F from 80 °F', kind: 'handbook' },
      { text: 'freezing points: a vehicle maker’s storage chart and a US Army manual', kind: 'handbook' },
    ],
    formula: 'gravity + 0.0004 · (°F − 80); straight lines between the rows',
    range: 'flooded lead-acid of 1.265 full; stronger acids have another table',
    example: {
      input: { gravity: 1.225, temperature: '80 °F' },
      output: { stateOfCharge: { value: 75, unit: '%' }, freezing: { value: -35, unit: 'degF' } },
    },
    run: socByGravity,
  }),
  define({
    id: 'peukert',
    title: 'How long a battery lasts at a current',
    room: 'power',
    summary: 'Time and ampere-hours, which shrink as the current grows.',
    input: z.strictObject({
      capacity: q('electric-charge', 'rated capacity'),
      current: q('electric-current', 'steady draw'),
      exponent: z.number().check(z.describe('1.2 to 1.3 flooded, 1.05 to 1.15 AGM, 1.01 to 1.05 lithium')),
      ratedTime: z.optional(q('time', 'time the rating is for; 20 h where not given')),
      form: z.optional(
        z
          .enum(['rated', 'one-ampere'])
          .check(z.describe('rated where not given; one-ampere takes the capacity at 1 A')),
      ),
    }),
    output: answer({ time: out('time', 'until empty'), charge: out('electric-charge', 'what it gives') }),
    cautions: [],
    sources: [
      { text: 'Peukert 1897; one-ampere form with a published worked example', kind: 'physics' },
      { text: 'rated form and usual exponents', kind: 'handbook', tag: 'memory' },
    ],
    formula: 't = H · (C/(I·H))^k, or t = C₁/I^k',
    range: 'steady currents, 25 °C; not for lithium in the cold',
    example: {
      input: { capacity: '100 Ah', current: '10 A', exponent: 1.2, ratedTime: '20 h' },
      output: { time: { value: 8.705506, unit: 'h' }, charge: { value: 87.0551, unit: 'Ah' } },
    },
    run: peukert,
  }),
  define({
    id: 'battery-days',
    title: 'How many days without a plug',
    room: 'power',
    summary: 'The day’s loads against the charge above its floor, and the sun.',
    input: z.strictObject({
      capacity: q('electric-charge', 'of all batteries together'),
      stateOfCharge: q('ratio', 'now'),
      floor: q('ratio', 'not to go below; 50 % is usual for lead-acid'),
      loads: z
        .array(
          z.strictObject({
            what: z.string().check(z.describe('name')),
            current: q('electric-current', 'draw'),
            time: q('time', 'hours a day'),
          }),
        )
        .check(z.describe('what runs')),
      panel: z.optional(q('power', 'rated power of the panels')),
      sunHours: z.optional(q('time', 'hours of full sun a day')),
      derate: z.optional(q('ratio', 'share that reaches the battery; 70 % where not given')),
    }),
    output: answer({
      drawADay: out('electric-charge', 'taken in a day'),
      solarADay: out('electric-charge', 'given by the sun in a day'),
      days: z.nullable(out('time', 'until the floor')),
    }),
    cautions: [],
    sources: [
      {
        text: 'share of a flat panel’s rating that reaches the battery: 0.70 to 0.75',
        kind: 'common practice',
        tag: 'memory',
      },
    ],
    formula: 'capacity · (charge − floor)/(Σ current · time − panel · sun · share/12 V)',
    range: '12 V systems, draws near the rated current',
    example: {
      input: {
        capacity: '200 Ah',
        stateOfCharge: '90 %',
        floor: '50 %',
        loads: [
          { what: 'furnace fan', current: '7 A', time: '4 h' },
          { what: 'lamps', current: '2 A', time: '6 h' },
        ],
      },
      output: { drawADay: { value: 40, unit: 'Ah' }, days: { value: 2, unit: 'd' } },
    },
    run: batteryDays,
  }),
  ...wireCalculations,
  define({
    id: 'breakaway',
    title: 'Does the breakaway battery hold',
    room: 'power',
    summary: 'Whether it keeps the brakes on for the quarter hour the rule asks for.',
    input: z.strictObject({
      brakes: z.int().check(z.describe('electric brakes')),
      currentEach: q('electric-current', 'a brake; 3 A for 10 and 12 in drums'),
      capacity: q('electric-charge', 'of the breakaway battery'),
      stateOfCharge: q('ratio', 'now'),
    }),
    output: answer({
      current: out('electric-current', 'of all brakes'),
      charge: out('electric-charge', 'for a quarter of an hour'),
      available: out('electric-charge', 'what the battery gives at that current'),
      holds: z.boolean().check(z.describe('for 15 minutes')),
      time: out('time', 'until it is empty'),
    }),
    cautions: [],
    sources: [
      { text: '49 CFR 393.43(d): the brakes go on by themselves and stay on for 15 minutes', kind: 'regulation' },
      { text: '3.0 A a brake: an axle maker’s service table', kind: 'handbook' },
      { text: 'Peukert exponent 1.15 for small sealed batteries', kind: 'handbook', tag: 'memory' },
    ],
    formula: 'brakes · current · 0.25 h against the battery by Peukert’s law',
    range: 'small 12 V batteries rated at 20 h',
    example: {
      input: { brakes: 4, currentEach: '3 A', capacity: '12 Ah', stateOfCharge: '100 %' },
      output: { current: { value: 12, unit: 'A' }, charge: { value: 3, unit: 'Ah' }, holds: true },
    },
    run: breakaway,
  }),
  define({
    id: 'outlet-budget',
    title: 'What may run together on an outlet',
    room: 'power',
    summary: 'The loads against the breaker, those of three hours or more at 80 %.',
    input: z.strictObject({
      breaker: q('electric-current', 'of the outlet or site'),
      voltage: q('electric-potential', 'measured, or 120 V'),
      loads: z
        .array(
          z.strictObject({
            what: z.string().check(z.describe('name')),
            power: q('power', 'rated power'),
            continuous: z.boolean().check(z.describe('three hours or more')),
          }),
        )
        .check(z.describe('what runs at the same time')),
    }),
    output: answer({
      power: out('power', 'together'),
      current: out('electric-current', 'together'),
      continuousMax: out('electric-current', '80 % of the breaker'),
      margin: out('electric-current', 'left, continuous loads counted at 80 %'),
      holds: z.boolean().check(z.describe('within the breaker')),
    }),
    cautions: [],
    sources: [{ text: 'NEC 210.20(A): continuous loads at 80 % of the breaker', kind: 'standard', tag: 'memory' }],
    formula: 'breaker − Σ power/(V · 0.8 where continuous)',
    range: '104 to 127 V outlets, one leg',
    example: {
      input: { breaker: '15 A', voltage: '120 V', loads: [{ what: 'heater', power: '1,440 W', continuous: true }] },
      output: {
        current: { value: 12, unit: 'A' },
        continuousMax: { value: 12, unit: 'A' },
        margin: { value: 0, unit: 'A' },
        holds: true,
      },
    },
    run: outletBudget,
  }),
  define({
    id: 'motor-start',
    title: 'What it takes to start a motor',
    room: 'power',
    summary: 'Running and starting current by horsepower and code letter.',
    input: z.strictObject({
      horsepower: z.string().check(z.describe('`1/2`, `1`, `1 1/2`')),
      code: z.string().check(z.describe('locked-rotor letter on the plate: G to L')),
      voltage: q('electric-potential', '120 V'),
    }),
    output: answer({
      currentFull: out('electric-current', 'running, full load'),
      currentStart: out('electric-current', 'for an instant'),
      powerStart: out('power', 'for an instant'),
    }),
    cautions: [],
    sources: [
      { text: 'NEC table 430.248: full-load current at 115 V (four copies agree)', kind: 'standard' },
      { text: 'locked-rotor kVA a horsepower by code letter', kind: 'standard', tag: 'memory' },
    ],
    formula: 'kVA/hp · hp · 1000/V',
    range: 'single-phase motors of 1/6 to 3 hp',
    example: {
      input: { horsepower: '1', code: 'K', voltage: '120 V' },
      output: { currentFull: { value: 16, unit: 'A' }, currentStart: { value: 74.92, unit: 'A' } },
    },
    run: motorStart,
  }),
];
