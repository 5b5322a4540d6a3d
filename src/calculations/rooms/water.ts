/** The calculations of the water room. */

import * as z from 'zod/mini';
import { range } from '../../quantity/index.ts';
import { BLEACH_VERDICTS, bleachConcentration, bleachDose, glycol, heaterTime } from '../../water/index.ts';
import { answer, type Calculation, type CalculationSource, define, out, q } from '../calculation.ts';

const SANITIZE: readonly CalculationSource[] = [
  { text: 'at least 50 mg/L for 4 hours: CDC Vessel Sanitation Program manual 5.3.4.1.4', kind: 'handbook' },
  { text: '1/4 cup in 15 gallons, 4 hours: a trailer handbook', kind: 'handbook' },
  { text: '10 mg/L for 6 to 24 hours: ANSI/AWWA C652 method 1', kind: 'standard' },
];

const TANK = range(0.1, 1000, 'gal');
const STRENGTH = range(1, 13, '%');

export const waterCalculations: readonly Calculation[] = [
  define({
    id: 'bleach-dose',
    title: 'Bleach to sanitize a system',
    room: 'water',
    summary: 'The dose for a target, by the strength as sold.',
    input: z.strictObject({
      target: q('concentration', 'in the tank; 50 mg/L is usual', range(0, 1000, 'mg/L')),
      volume: q('volume', 'of the whole system: tank, heater, pipes', TANK),
      strength: q('ratio', 'on the label, such as 6 %', STRENGTH),
    }),
    output: answer({ dose: out('volume', 'to add'), hold: out('time', 'to stand') }),
    cautions: [],
    sources: SANITIZE,
    formula: 'target · volume/(strength · 1000 g/L)',
    range: 'plain household bleach of 1 to 13 %, 10 to 200 mg/L',
    envelope: {
      minimum: '10 mg/L: less sanitizes no tank and is refused',
      floor: 'the dose of bleach as strong as its label',
      reserve: 'under 50 mg/L it stands 24 hours, the longest published',
      ceiling: '200 mg/L in a tank',
      rounding: 'none: shown figures only',
      laws: [
        { input: 'target', worse: 'less', output: 'hold', severer: 'greater' },
        { input: 'strength', worse: 'less', output: 'dose', severer: 'greater' },
        { input: 'volume', worse: 'more', output: 'dose', severer: 'greater' },
      ],
    },
    example: {
      input: { target: '50 mg/L', volume: '40 gal', strength: '6 %' },
      output: { dose: { value: 4.267, unit: 'floz' }, hold: { value: 4, unit: 'h' } },
    },
    run: bleachDose,
  }),
  define({
    id: 'bleach-concentration',
    title: 'What a dose of bleach comes to',
    room: 'water',
    summary: 'The concentration of a dose, by the strength as sold.',
    input: z.strictObject({
      dose: q('volume', 'what was added', range(0.0001, 100, 'gal')),
      volume: q('volume', 'of the whole system: tank, heater, pipes', TANK),
      strength: q('ratio', 'on the label, such as 6 %', STRENGTH),
    }),
    output: answer({
      concentration: out('concentration', 'as handbooks reckon'),
      concentrationMixed: out('concentration', 'counting the dose’s own volume'),
      verdict: z.enum(BLEACH_VERDICTS).check(z.describe('by the published methods')),
      hold: z.nullable(out('time', 'to stand; null where it does not sanitize')),
    }),
    cautions: [],
    sources: SANITIZE,
    formula: 'dose · strength · 1000 g/L / volume',
    range: 'plain household bleach of 1 to 13 %',
    envelope: {
      minimum: 'a dose, a volume and the strength on the label',
      floor: '10 mg/L: less is too weak',
      reserve: 'under 50 mg/L it stands 24 hours, the longest published',
      ceiling: '200 mg/L: more is drained',
      rounding: 'as handbooks reckon; the dose’s own volume stands beside',
      laws: [
        { input: 'volume', worse: 'more', output: 'concentrationMixed', severer: 'lesser' },
        { input: 'dose', worse: 'more', output: 'concentration', severer: 'greater' },
      ],
    },
    example: {
      input: { dose: '1/4 cup', volume: '15 gal', strength: '5.25 %' },
      output: { concentration: { value: 54.69, unit: 'mg/L' }, concentrationMixed: { value: 54.63, unit: 'mg/L' } },
    },
    run: bleachConcentration,
  }),
  define({
    id: 'glycol',
    title: 'Propylene glycol against frost',
    room: 'water',
    summary: 'Where a mix freezes, or the mix for a temperature.',
    input: z.strictObject({
      share: z.optional(q('ratio', 'glycol by volume; or', range(0, 100, '%'))),
      temperature: z.optional(q('temperature', 'the temperature to stand', range(-100, 120, 'degF'))),
    }),
    output: answer({ share: out('ratio', 'glycol by volume'), freezing: out('temperature', 'where it freezes') }),
    cautions: [],
    sources: [{ text: 'Lange’s Handbook of Chemistry, 15th edition, table 5.13', kind: 'handbook' }],
    formula: 'the table; between rows its safer row',
    range: '10 to 50 % by volume, 28 to −28 °F',
    envelope: {
      minimum: 'a share or a temperature, one of the two',
      floor: '10 %: weaker hardly protects and is refused',
      reserve: 'none: the point at which ice begins, not at which pipes burst',
      ceiling: '50 % and −28 °F: beyond, drain instead',
      rounding: 'the weaker row’s freezing point, the stronger row’s share',
      laws: [
        {
          input: 'share',
          worse: ['50 %', '47 %', '45 %', '41 %', '40 %', '33 %', '28 %', '25 %', '20 %', '12 %', '10 %'],
          output: 'freezing',
          severer: 'greater',
        },
      ],
    },
    example: {
      input: { share: '50 %' },
      output: { share: { value: 50, unit: '%' }, freezing: { value: -28, unit: 'degF' } },
    },
    run: glycol,
  }),
  define({
    id: 'heater-time',
    title: 'How long a water heater takes',
    room: 'water',
    summary: 'Heat and minutes from one temperature to another.',
    input: z.strictObject({
      volume: q('volume', 'of the tank', TANK),
      from: q('temperature', 'now', range(32, 180, 'degF')),
      to: q('temperature', 'wanted', range(32, 180, 'degF')),
      power: q('power', 'of the burner or element', range(100, 200_000, 'BTU/h')),
      efficiency: q('ratio', 'about 75 % on gas, 95 % electric', range(10, 100, '%')),
    }),
    output: answer({ energy: out('energy', 'heat into the water'), time: out('time', 'running time') }),
    cautions: [],
    sources: [
      { text: 'a BTU raises a pound of water by 1 °F; 8.33 lb a gallon', kind: 'physics' },
      { text: 'efficiencies', kind: 'common practice' },
    ],
    formula: 'gallons · 8.33 · °F/(power · efficiency)',
    range: '32 to 180 °F',
    envelope: {
      minimum: 'water above freezing and a rise of temperature',
      floor: 'none',
      reserve: 'none: a time, not a limit',
      ceiling: '180 °F: under the relief valve',
      rounding: 'none: shown figures only',
      laws: [
        { input: 'power', worse: 'less', output: 'time', severer: 'greater' },
        { input: 'efficiency', worse: 'less', output: 'time', severer: 'greater' },
        { input: 'volume', worse: 'more', output: 'time', severer: 'greater' },
      ],
    },
    example: {
      input: { volume: '6 gal', from: '60 °F', to: '140 °F', power: '12,000 BTU/h', efficiency: '75 %' },
      output: { energy: { value: 3998, unit: 'BTU' }, time: { value: 26.7, unit: 'min' } },
    },
    run: heaterTime,
  }),
];
