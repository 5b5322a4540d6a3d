/** The calculations of the water room. */

import * as z from 'zod/mini';
import { bleachConcentration, bleachDose, glycol, heaterTime } from '../../water/index.ts';
import { answer, type Calculation, type CalculationSource, define, out, q } from '../calculation.ts';

const SANITIZE: readonly CalculationSource[] = [
  { text: 'at least 50 mg/L for 4 hours: CDC Vessel Sanitation Program manual 5.3.4.1.4', kind: 'handbook' },
  { text: '1/4 cup in 15 gallons, 4 hours: a trailer handbook', kind: 'handbook' },
  { text: '10 mg/L for 6 to 24 hours: ANSI/AWWA C652 method 1', kind: 'standard' },
];

export const waterCalculations: readonly Calculation[] = [
  define({
    id: 'bleach-dose',
    title: 'Bleach to sanitize a system',
    room: 'water',
    summary: 'The dose for a target, by the strength as sold.',
    input: z.strictObject({
      target: q('concentration', 'in the tank; 50 mg/L is usual'),
      volume: q('volume', 'of the whole system'),
      strength: q('ratio', 'on the label, such as 6 %'),
    }),
    output: answer({ dose: out('volume', 'to add'), hold: out('time', 'to stand') }),
    cautions: [],
    sources: SANITIZE,
    formula: 'target · volume/(strength · 1000 g/L)',
    range: 'plain household bleach of 1 to 13 %, up to 200 mg/L',
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
      dose: q('volume', 'what was added'),
      volume: q('volume', 'of the whole system'),
      strength: q('ratio', 'on the label, such as 6 %'),
    }),
    output: answer({
      concentration: out('concentration', 'as handbooks reckon'),
      concentrationMixed: out('concentration', 'counting the dose’s own volume'),
    }),
    cautions: [],
    sources: SANITIZE,
    formula: 'dose · strength · 1000 g/L / volume',
    range: 'plain household bleach of 1 to 13 %',
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
      share: z.optional(q('ratio', 'glycol by volume; or')),
      temperature: z.optional(q('temperature', 'the temperature to stand')),
    }),
    output: answer({ share: out('ratio', 'glycol by volume'), freezing: out('temperature', 'where it freezes') }),
    cautions: [],
    sources: [{ text: 'Lange’s Handbook of Chemistry, 15th edition, table 5.13', kind: 'handbook' }],
    formula: 'straight lines between the rows',
    range: '10 to 50 % by volume, 28 to −28 °F',
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
      volume: q('volume', 'of the tank'),
      from: q('temperature', 'now'),
      to: q('temperature', 'wanted'),
      power: q('power', 'of the burner or element'),
      efficiency: q('ratio', 'about 75 % on gas, 95 % electric'),
    }),
    output: answer({ energy: out('energy', 'heat into the water'), time: out('time', 'running time') }),
    cautions: [],
    sources: [
      { text: 'a BTU raises a pound of water by 1 °F; 8.33 lb a gallon', kind: 'physics' },
      { text: 'efficiencies', kind: 'common practice' },
    ],
    formula: 'gallons · 8.33 · °F/(power · efficiency)',
    range: '32 to 180 °F',
    example: {
      input: { volume: '6 gal', from: '60 °F', to: '140 °F', power: '12,000 BTU/h', efficiency: '75 %' },
      output: { energy: { value: 3998, unit: 'BTU' }, time: { value: 26.7, unit: 'min' } },
    },
    run: heaterTime,
  }),
];
