/** The calculations of the power room. */

import * as z from 'zod/mini';
import {
  BREAKAWAY_AMPERES,
  batteryDays,
  breakaway,
  LOCKED_ROTOR_KVA,
  MOTOR_FULL_LOAD,
  motorStart,
  OUTLET_VOLTAGES,
  outletBudget,
  peukert,
  socByGravity,
  socByVoltage,
} from '../../power/index.ts';
import { range } from '../../quantity/index.ts';
import { answer, bounds, type Calculation, define, out, q } from '../calculation.ts';
import { wireCalculations } from './wire.ts';

const CAPACITY = range(0, 5000, 'Ah');
const SHARE = range(0, 100, '%');
const AMPERES = range(0, 1000, 'A');
const OUTLET = range(80, 140, 'V');
const WATTS = range(0, 50_000, 'W');
/** From above full to flat. */
const RESTED = [
  '12.85 V',
  '12.7 V',
  '12.65 V',
  '12.5 V',
  '12.45 V',
  '12.3 V',
  '12.24 V',
  '12.1 V',
  '12.06 V',
  '11.9 V',
  '11.5 V',
  '11 V',
  '9 V',
  '5 V',
];
/** From strong acid to water. */
const GRAVITIES = [1.35, 1.3, 1.28, 1.265, 1.24, 1.225, 1.2, 1.19, 1.17, 1.155, 1.13, 1.1, 1.07, 1.03, 1];
/** From a perfect battery to a worn one. */
const EXPONENTS = [1, 1.02, 1.05, 1.1, 1.15, 1.2, 1.25, 1.3, 1.4, 1.6, 1.8, 2];
const name = z.string().check(z.maxLength(100), z.describe('name'));

const charge = {
  stateOfCharge: out('ratio', 'state of charge'),
  uncertainty: z
    .strictObject({ stateOfCharge: bounds('ratio', 'state of charge') })
    .check(z.describe('what meter and rest leave open')),
  freezing: z.nullable(out('temperature', 'the warmest at which it would freeze')),
};

export const powerCalculations: readonly Calculation[] = [
  define({
    id: 'soc-by-voltage',
    title: 'State of charge by rested voltage',
    room: 'power',
    summary: 'How full a 12 V battery is after a rest, with its doubt, and where it would freeze.',
    input: z.strictObject({
      voltage: q(
        'electric-potential',
        'across the posts of one 12 V battery, nothing charging, nothing drawing',
        range(5, 16, 'V'),
      ),
      rest: q('time', 'since it was last charged or drawn from: 6 h at least, better 24', range(0, 3650, 'd')),
      chemistry: z.enum(['flooded', 'lifepo4']).check(z.describe('flooded lead-acid, or lithium iron phosphate')),
    }),
    output: answer(charge),
    cautions: ['Batteries give off gas that explodes and hold acid: no spark, goggles, the negative post off first.'],
    sources: [
      { text: 'a battery maker’s table of rested volts at 80 °F (flooded)', kind: 'handbook' },
      { text: 'a web chart without a standard behind it (lithium): low confidence', kind: 'common practice' },
      { text: 'freezing points: a vehicle maker’s storage chart and a US Army manual', kind: 'handbook' },
      { text: 'six hours of rest at least; a cell’s volts are its gravity and 0.845', kind: 'handbook', tag: 'memory' },
    ],
    formula: 'straight lines between the rows; freezing between rows never colder than the curve can be',
    range: '12 V batteries, rested; voltage is not corrected for temperature, sources disagree',
    envelope: {
      minimum: 'six hours without charge or load, and a voltage a resting battery can have; else refused',
      floor: '0 %; below it the acid counts as weaker still',
      reserve: 'freezing is that of the lowest charge the meter leaves open',
      ceiling: '100 %; 12.85 V flooded, 13.8 V lithium: above it is charging',
      rounding: 'freezing up to the next whole °F',
      laws: [
        { input: 'voltage', worse: RESTED, output: 'stateOfCharge', severer: 'lesser' },
        { input: 'voltage', worse: RESTED, output: 'uncertainty.stateOfCharge.low', severer: 'lesser' },
        { input: 'voltage', worse: RESTED, output: 'freezing', severer: 'greater' },
      ],
    },
    example: {
      input: { voltage: '12.55 V', rest: '12 h', chemistry: 'flooded' },
      output: { stateOfCharge: { value: 87.5, unit: '%' }, freezing: { value: -45, unit: 'degF' } },
    },
    run: socByVoltage,
  }),
  define({
    id: 'soc-by-gravity',
    title: 'State of charge by hydrometer',
    room: 'power',
    summary: 'How full a flooded cell is, corrected to 80 °F, and where it would freeze. The weakest cell counts.',
    input: z.strictObject({
      gravity: z
        .number()
        .check(z.gte(1), z.lte(1.35), z.describe('specific gravity as read: 1.225; of the weakest cell')),
      temperature: q('temperature', 'of the acid', range(-40, 140, 'degF')),
    }),
    output: answer({ ...charge, gravityCorrected: z.number().check(z.describe('at 80 °F')) }),
    cautions: [],
    sources: [
      { text: 'a battery maker’s table; 0.004 for each 10 °F from 80 °F', kind: 'handbook' },
      { text: 'freezing points: a vehicle maker’s storage chart and a US Army manual', kind: 'handbook' },
      { text: 'a hydrometer is read to 0.005', kind: 'common practice' },
    ],
    formula: 'gravity + 0.0004 · (°F − 80); straight lines between the rows',
    range: 'flooded lead-acid of 1.265 full; stronger acids have another table',
    envelope: {
      minimum: 'a gravity from 1.000 to 1.350 and the temperature of the acid',
      floor: '0 %; freezing down to that of water',
      reserve: 'freezing is that of acid 0.005 weaker than read',
      ceiling: '100 %; over 1.300 says nothing and is cautioned',
      rounding: 'freezing up to the next whole °F',
      laws: [
        { input: 'gravity', worse: GRAVITIES, output: 'stateOfCharge', severer: 'lesser' },
        { input: 'gravity', worse: GRAVITIES, output: 'freezing', severer: 'greater' },
        { input: 'temperature', worse: 'less', output: 'stateOfCharge', severer: 'lesser' },
        { input: 'temperature', worse: 'less', output: 'freezing', severer: 'greater' },
      ],
    },
    example: {
      input: { gravity: 1.225, temperature: '80 °F' },
      output: { stateOfCharge: { value: 75, unit: '%' }, freezing: { value: -29, unit: 'degF' } },
    },
    run: socByGravity,
  }),
  define({
    id: 'peukert',
    title: 'How long a battery lasts at a current',
    room: 'power',
    summary: 'Time and ampere-hours, which shrink as the current grows.',
    input: z.strictObject({
      capacity: q('electric-charge', 'rated capacity', CAPACITY),
      current: q('electric-current', 'steady draw', range(0.001, 1000, 'A')),
      exponent: z
        .number()
        .check(z.gte(1), z.lte(2), z.describe('1.2 to 1.3 flooded, 1.05 to 1.15 AGM, 1.01 to 1.05 lithium')),
      ratedTime: z.optional(q('time', 'time the rating is for; 20 h where not given', range(1, 200, 'h'))),
      form: z.optional(
        z
          .enum(['rated', 'one-ampere'])
          .check(z.describe('rated where not given; one-ampere takes the capacity at 1 A')),
      ),
    }),
    output: answer({
      time: out('time', 'until empty'),
      timeHalf: out('time', 'until half of that is used: the end for lead-acid'),
      charge: out('electric-charge', 'what it gives'),
    }),
    cautions: [],
    sources: [
      { text: 'Peukert 1897; one-ampere form with a published worked example', kind: 'physics' },
      { text: 'rated form and usual exponents', kind: 'handbook', tag: 'memory' },
    ],
    formula: 't = H · (C/(I·H))^k, or t = C₁/I^k; never more than C/I',
    range: 'steady currents, 25 °C; not for lithium in the cold',
    envelope: {
      minimum: 'a capacity, a current and an exponent from 1 to 2',
      floor: 'none: a great current leaves little time',
      reserve: 'half of it is given beside the whole, as the end for lead-acid',
      ceiling: 'the capacity on the nameplate, however small the current',
      rounding: 'none: shown figures only',
      laws: [
        { input: 'current', worse: 'more', output: 'time', severer: 'lesser' },
        { input: 'current', worse: 'more', output: 'charge', severer: 'lesser' },
        { input: 'exponent', worse: EXPONENTS, output: 'time', severer: 'lesser' },
        { input: 'capacity', worse: 'less', output: 'time', severer: 'lesser' },
        { input: 'ratedTime', worse: 'less', output: 'time', severer: 'greater' },
      ],
    },
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
    summary: 'The day’s loads against the charge above its floor, with the sun and without it.',
    input: z.strictObject({
      capacity: q('electric-charge', 'of all batteries together', CAPACITY),
      stateOfCharge: q('ratio', 'now', SHARE),
      floor: q('ratio', 'not to go below; 50 % is usual for lead-acid', SHARE),
      loads: z
        .array(
          z.strictObject({
            what: name,
            current: q('electric-current', 'draw', AMPERES),
            time: q('time', 'hours a day', range(0, 24, 'h')),
          }),
        )
        .check(z.maxLength(100), z.describe('what runs')),
      panel: z.optional(q('power', 'rated power of the panels', range(0, 10_000, 'W'))),
      sunHours: z.optional(q('time', 'hours of full sun a day', range(0, 12, 'h'))),
      derate: z.optional(q('ratio', 'share that reaches the battery; 70 % where not given', SHARE)),
    }),
    output: answer({
      drawADay: out('electric-charge', 'taken in a day'),
      solarADay: out('electric-charge', 'given by the sun in a day'),
      days: z.nullable(out('time', 'until the floor; null where the sun gives as much')),
      daysWithoutSun: z.nullable(out('time', 'until the floor without any sun; null where nothing is drawn')),
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
    envelope: {
      minimum: 'charge now and floor as shares; panel and sun hours together or not at all',
      floor: 'none: at or under the floor it is no days',
      reserve: 'the floor itself; the days without sun stand beside',
      ceiling: 'the capacity on the nameplate, and a year: no battery keeps its charge longer',
      rounding: 'the lower of the published shares for a flat panel',
      laws: [
        { input: 'loads.*.current', worse: 'more', output: 'daysWithoutSun', severer: 'lesser', none: 'mildest' },
        { input: 'loads.*.time', worse: 'more', output: 'days', severer: 'lesser', none: 'mildest' },
        { input: 'floor', worse: 'more', output: 'days', severer: 'lesser', none: 'mildest' },
        { input: 'stateOfCharge', worse: 'less', output: 'days', severer: 'lesser', none: 'mildest' },
        { input: 'capacity', worse: 'less', output: 'days', severer: 'lesser', none: 'mildest' },
      ],
    },
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
      brakes: z.int().check(z.gte(1), z.lte(12), z.describe('electric brakes')),
      currentEach: q('electric-current', 'a brake; 3 A for 10 and 12 in drums', BREAKAWAY_AMPERES),
      capacity: q('electric-charge', 'of the breakaway battery', range(0, 300, 'Ah')),
      stateOfCharge: q('ratio', 'now', SHARE),
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
      { text: '80 % of the nameplate as the end of a battery’s life: IEEE 1188', kind: 'standard', tag: 'memory' },
    ],
    formula: 'brakes · current · 0.25 h against 80 % of the battery by Peukert’s law',
    range: 'small 12 V batteries rated at 20 h',
    envelope: {
      minimum: 'at least 2 A a brake; a charge from 0 to 100 %',
      floor: 'none: an empty battery holds no time',
      reserve: 'a fifth of the nameplate, for age',
      ceiling: '80 % of the nameplate, however small the current',
      rounding: 'none: 15 minutes to the second',
      laws: [
        { input: 'brakes', worse: [2, 3, 4, 6, 8, 12], output: 'time', severer: 'lesser' },
        { input: 'currentEach', worse: 'more', output: 'time', severer: 'lesser' },
        { input: 'currentEach', worse: 'more', output: 'holds', severer: [true, false] },
        { input: 'capacity', worse: 'less', output: 'holds', severer: [true, false] },
        { input: 'stateOfCharge', worse: 'less', output: 'holds', severer: [true, false] },
      ],
    },
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
    summary: 'The loads against the breaker, those of three hours or more at 80 %, and the voltage against its limits.',
    input: z.strictObject({
      breaker: q('electric-current', 'of the outlet or site', range(0, 100, 'A')),
      voltage: q('electric-potential', 'hot to neutral, measured while the loads run', OUTLET),
      loads: z
        .array(
          z.strictObject({
            what: name,
            power: q('power', 'rated power', WATTS),
            continuous: z.boolean().check(z.describe('three hours or more')),
          }),
        )
        .check(z.maxLength(100), z.describe('what runs at the same time')),
    }),
    output: answer({
      power: out('power', 'together'),
      current: out('electric-current', 'together'),
      continuousMax: out('electric-current', '80 % of the breaker'),
      margin: out('electric-current', 'left, continuous loads counted at 80 %'),
      voltageVerdict: z.enum(OUTLET_VOLTAGES).check(z.describe('within the limits of the catalog, low or high')),
      holds: z.boolean().check(z.describe('within the breaker, at a voltage within its limits')),
    }),
    cautions: [],
    sources: [
      { text: 'NEC 210.20(A): continuous loads at 80 % of the breaker', kind: 'standard', tag: 'memory' },
      { text: 'voltage limits: catalog/limits.json (ANSI C84.1)', kind: 'standard', tag: 'memory' },
    ],
    formula: 'breaker − Σ power/(V · 0.8 where continuous)',
    range: '120 V outlets, one leg',
    envelope: {
      minimum: 'a breaker, and 80 to 140 V hot to neutral',
      floor: 'the catalog’s least voltage at an outlet: under it nothing holds',
      reserve: 'a fifth of the breaker where a load is continuous',
      ceiling: 'the breaker, and the catalog’s most voltage',
      rounding: 'every load keeps its power at a low voltage, so draws more',
      laws: [
        { input: 'loads.*.power', worse: 'more', output: 'margin', severer: 'lesser' },
        { input: 'loads.*.power', worse: 'more', output: 'holds', severer: [true, false] },
        { input: 'loads.*.continuous', worse: [false, true], output: 'margin', severer: 'lesser' },
        { input: 'voltage', worse: 'less', output: 'margin', severer: 'lesser' },
        { input: 'breaker', worse: 'less', output: 'margin', severer: 'lesser' },
        { input: 'breaker', worse: 'less', output: 'holds', severer: [true, false] },
      ],
    },
    example: {
      input: { breaker: '15 A', voltage: '120 V', loads: [{ what: 'heater', power: '1,440 W', continuous: true }] },
      output: {
        current: { value: 12, unit: 'A' },
        continuousMax: { value: 12, unit: 'A' },
        margin: { value: 0, unit: 'A' },
        voltageVerdict: 'within',
        holds: true,
      },
    },
    run: outletBudget,
  }),
  define({
    id: 'motor-start',
    title: 'What it takes to start a motor',
    room: 'power',
    summary: 'Running and starting current by horsepower and code letter, and whether a source can start it.',
    input: z.strictObject({
      horsepower: z.string().check(z.maxLength(20), z.describe('`1/2`, `1`, `1 1/2`')),
      code: z.string().check(z.maxLength(5), z.describe('locked-rotor letter on the plate: G to L')),
      voltage: q('electric-potential', 'at the motor', OUTLET),
      source: z.optional(q('power', 'what generator, inverter or outlet gives for an instant, VA', WATTS)),
    }),
    output: answer({
      currentFull: out('electric-current', 'running, full load'),
      currentStart: out('electric-current', 'for an instant'),
      powerStart: out('power', 'for an instant, VA'),
      starts: z.nullable(z.boolean()).check(z.describe('no: it will not; yes: it may; null without a source')),
    }),
    cautions: [],
    sources: [
      { text: 'NEC table 430.248: full-load current at 115 V (four copies agree)', kind: 'standard' },
      { text: 'locked-rotor kVA a horsepower by code letter', kind: 'standard', tag: 'memory' },
    ],
    formula: 'kVA/hp · hp · 1000/V',
    range: 'single-phase motors of 1/6 to 3 hp',
    envelope: {
      minimum: 'a size and a code letter of the tables, 80 to 140 V',
      floor: 'the table’s full-load current; more where the voltage is under 115 V',
      reserve: 'none: a source that gives just enough only may start it',
      ceiling: 'none: a greater motor is refused',
      rounding: 'the highest kVA of the code letter',
      laws: [
        {
          input: 'horsepower',
          worse: Object.keys(MOTOR_FULL_LOAD).toSorted((a, b) => MOTOR_FULL_LOAD[a]! - MOTOR_FULL_LOAD[b]!),
          output: 'powerStart',
          severer: 'greater',
        },
        { input: 'code', worse: Object.keys(LOCKED_ROTOR_KVA), output: 'currentStart', severer: 'greater' },
        { input: 'voltage', worse: 'less', output: 'currentFull', severer: 'greater' },
        { input: 'voltage', worse: 'less', output: 'currentStart', severer: 'greater' },
        { input: 'source', worse: 'less', output: 'starts', severer: [true, false] },
      ],
    },
    example: {
      input: { horsepower: '1', code: 'K', voltage: '120 V', source: '2,000 W' },
      output: {
        currentFull: { value: 16, unit: 'A' },
        currentStart: { value: 74.92, unit: 'A' },
        starts: false,
      },
    },
    run: motorStart,
  }),
];
