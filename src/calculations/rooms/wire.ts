/** The calculations of wires: what they carry, their fuse, what is lost in them. */

import * as z from 'zod/mini';
import { INSULATIONS, LAYINGS, WIRE_VERDICTS, wireDrop, wireGauge, wires } from '../../power/index.ts';
import { range } from '../../quantity/index.ts';
import { answer, bounds, type Calculation, type CalculationSource, define, out, q } from '../calculation.ts';

const SOURCES: readonly CalculationSource[] = [
  { text: 'NEC (NFPA 70) chapter 9 table 8: ohms a thousand feet at 75 °C, uncoated copper', kind: 'standard' },
  {
    text: 'NEC table 310.16: amperes of enclosed copper wire at 30 °C, three wires at most (two makers’ reprints; the lower of editions)',
    kind: 'standard',
  },
  {
    text: '33 CFR 183.425 table 5: amperes of single wires in the open at 30 °C; the same figures as ABYC E-11',
    kind: 'regulation',
  },
  {
    text: 'NEC 310.15: shares left by heat and by wires bundled; 0.85 at 50 °C for 105 °C insulation',
    kind: 'standard',
  },
  { text: 'NEC 551.10(E)(1): fuse ceilings of low-voltage wire, 18 to 10 AWG', kind: 'standard', tag: 'memory' },
  {
    text: 'NEC 210.19(A), 215.2: continuous loads count for a quarter more; 240.6(A): fuse sizes',
    kind: 'standard',
    tag: 'memory',
  },
  { text: 'inverters: 85 % efficiency, a cable seller’s sheet; cut-out at 10.5 V of 12 V', kind: 'common practice' },
];

const CAUTION =
  'A wire too thin for its current starts fires. Batteries deliver hundreds of amperes into a short: the negative post off first, no rings, no loose tools.';

/** What both ask for: the load, the length and where the wire runs. */
const circuit = {
  current: z.optional(q('electric-current', 'current; or the inverter’s power', range(0, 1000, 'A'))),
  inverterPower: z.optional(q('power', 'what the inverter gives without end', range(0, 10_000, 'W'))),
  inverterCutout: z.optional(
    q(
      'electric-potential',
      'battery voltage at which it switches off; 10.5 V of 12 V where not given',
      range(0, 60, 'V'),
    ),
  ),
  inverterEfficiency: z.optional(q('ratio', 'of the inverter at full load; 85 % where not given', range(0, 100, '%'))),
  length: q('length', 'one way', range(0, 200, 'ft')),
  voltage: z.optional(q('electric-potential', 'of the battery; 12 V where not given', range(0, 60, 'V'))),
  insulation: z.optional(
    z.enum(INSULATIONS).check(z.describe('°C printed on the wire; 60, the lowest, where not given')),
  ),
  laying: z.optional(
    z
      .enum(LAYINGS)
      .check(
        z.describe('enclosed: in a wall, sleeve or conduit; open: single wires in free air. Enclosed where not given'),
      ),
  ),
  ambient: z.optional(
    q('temperature', 'air around the wire at its hottest; 50 °C (122 °F) where not given', range(-60, 105, 'degC')),
  ),
  together: z.optional(
    z
      .int()
      .check(
        z.gte(2),
        z.lte(100),
        z.describe('current-carrying wires in one bundle, this pair counted; 6 where not given'),
      ),
  ),
  continuous: z.optional(z.boolean().check(z.describe('three hours or more at a stretch; yes where not given'))),
};

/** The thinnest first. */
const GAUGES = wires.map((wire) => wire.gauge);

/** By how many wires a bundle counts as the next step of the tables. */
const BUNDLES = [2, 3, 4, 7, 10, 21, 31, 41] as const;

export const wireCalculations: readonly Calculation[] = [
  define({
    id: 'wire-drop',
    title: 'Is a wire thick enough, and what is lost in it',
    room: 'power',
    summary: 'Whether copper wire carries a load where it runs, its largest fuse, and the volts lost there and back.',
    input: z.strictObject({
      ...circuit,
      gauge: z
        .pipe(z.union([z.string(), z.number()]), z.transform(String))
        .check(z.describe('American wire gauge: `10`, `4/0`')),
      temperature: z.optional(
        q('temperature', 'of the copper; as hot as the insulation allows where not given', range(-60, 150, 'degC')),
      ),
    }),
    output: answer({
      verdict: z
        .enum(WIRE_VERDICTS)
        .check(z.describe('carries the load with its fuse, has no reserve, or is overloaded: do not use it')),
      current: out('electric-current', 'of the load; of an inverter at its cut-out'),
      ampacity: out('electric-current', 'what the wire may carry there'),
      drop: out('electric-potential', 'volts lost'),
      share: out('ratio', 'of the voltage'),
      loss: out('power', 'heat in the wire'),
      voltageAtLoad: out('electric-potential', 'what arrives'),
      fuseMax: z.nullable(out('electric-current', 'largest fuse for this wire')),
    }),
    cautions: [CAUTION],
    sources: SOURCES,
    formula: 'V = 2 · I · R · L/1000; ampacity = table · share for heat · share for bundle',
    range: '18 AWG to 4/0, stranded copper, direct current under 50 V',
    envelope: {
      minimum: 'a gauge of the table; what is not given of the run is taken at its worst usual value and said so',
      floor: 'none: a thin wire is answered as overloaded',
      reserve: 'a continuous load counts for a quarter more',
      ceiling: 'the ampacity of the run, and the low-voltage ceiling of the gauge; nothing for being cold',
      rounding: 'the fuse is the next standard size down; copper counts as hot as its insulation allows',
      laws: [
        { input: 'current', worse: 'more', output: 'verdict', severer: WIRE_VERDICTS },
        { input: 'current', worse: 'more', output: 'drop', severer: 'greater' },
        { input: 'length', worse: 'more', output: 'drop', severer: 'greater' },
        { input: 'gauge', worse: GAUGES.toReversed(), output: 'verdict', severer: WIRE_VERDICTS },
        { input: 'gauge', worse: GAUGES.toReversed(), output: 'drop', severer: 'greater' },
        { input: 'gauge', worse: GAUGES.toReversed(), output: 'fuseMax', severer: 'lesser' },
        { input: 'insulation', worse: INSULATIONS.toReversed(), output: 'ampacity', severer: 'lesser' },
        { input: 'laying', worse: LAYINGS.toReversed(), output: 'ampacity', severer: 'lesser' },
        { input: 'ambient', worse: 'more', output: 'ampacity', severer: 'lesser' },
        { input: 'together', worse: BUNDLES, output: 'verdict', severer: WIRE_VERDICTS },
        { input: 'continuous', worse: [false, true], output: 'verdict', severer: WIRE_VERDICTS },
        { input: 'temperature', worse: 'more', output: 'drop', severer: 'greater' },
        { input: 'voltage', worse: 'less', output: 'share', severer: 'greater' },
      ],
    },
    example: {
      input: {
        current: '12 A',
        length: '20 ft',
        gauge: '14',
        voltage: '12 V',
        insulation: '75',
        laying: 'open',
        ambient: '30 °C',
        together: 2,
        continuous: true,
        temperature: '75 °C',
      },
      output: {
        verdict: 'carries',
        ampacity: { value: 15, unit: 'A' },
        drop: { value: 1.5072, unit: 'V' },
        share: { value: 12.56, unit: '%' },
        loss: { value: 18.09, unit: 'W' },
        fuseMax: { value: 15, unit: 'A' },
      },
    },
    run: wireDrop,
  }),
  define({
    id: 'wire-gauge',
    title: 'Which wire to lay, and its fuse',
    room: 'power',
    summary:
      'The thinnest wire to 4/0 that carries the load where it runs, keeps the drop and has a fuse that protects it.',
    input: z.strictObject({
      ...circuit,
      dropMax: q('ratio', 'most that may be lost: 3 % for what matters, 10 % for lamps', range(0, 20, '%')),
    }),
    output: answer({
      gauge: z.string().check(z.describe('American wire gauge')),
      current: out('electric-current', 'of the load; of an inverter at its cut-out'),
      ampacity: out('electric-current', 'what the wire may carry there'),
      drop: out('electric-potential', 'volts lost'),
      fuse: bounds('electric-current', 'standard fuse that holds the load and protects the wire'),
    }),
    cautions: [CAUTION],
    sources: [...SOURCES, { text: '3 % and 10 % as limits (marine practice, ABYC)', kind: 'standard' }],
    formula:
      'first wire of the table with 2 · I · R · L/1000 within the limit and a fuse from 1.25 · I to its ampacity',
    range: '18 AWG to 4/0, stranded copper, direct current under 50 V; beyond, refused with the reason',
    envelope: {
      minimum: 'a current, or an inverter’s power; what is not given of the run is taken at its worst usual value',
      floor: 'the thinnest wire whose fuse holds the load',
      reserve: 'a continuous load counts for a quarter more; an inverter is counted at its cut-out',
      ceiling: '4/0: more is refused with what to change',
      rounding: 'the gauge up to the next thicker one, the fuse down to the next standard size',
      laws: [
        { input: 'inverterPower', worse: 'more', output: 'gauge', severer: GAUGES },
        { input: 'inverterPower', worse: 'more', output: 'current', severer: 'greater' },
        { input: 'inverterEfficiency', worse: 'less', output: 'current', severer: 'greater' },
        { input: 'length', worse: 'more', output: 'gauge', severer: GAUGES },
        { input: 'ambient', worse: 'more', output: 'gauge', severer: GAUGES },
        { input: 'together', worse: BUNDLES, output: 'gauge', severer: GAUGES },
        { input: 'continuous', worse: [false, true], output: 'gauge', severer: GAUGES },
        { input: 'laying', worse: LAYINGS.toReversed(), output: 'gauge', severer: GAUGES },
        { input: 'dropMax', worse: 'less', output: 'gauge', severer: GAUGES },
      ],
    },
    example: {
      input: {
        inverterPower: '2,000 W',
        inverterCutout: '10.5 V',
        inverterEfficiency: '85 %',
        length: '6 ft',
        voltage: '12 V',
        insulation: '105',
        laying: 'open',
        ambient: '30 °C',
        together: 2,
        continuous: true,
        dropMax: '3 %',
      },
      output: {
        gauge: '2/0',
        current: { value: 224.09, unit: 'A' },
        ampacity: { value: 330, unit: 'A' },
        fuse: { low: { value: 300, unit: 'A' }, high: { value: 300, unit: 'A' } },
      },
    },
    run: wireGauge,
  }),
];
