/**
 * What lives here: the register of calculations. Commands, the API, the forms and `docs/calculations.md` are all made from it:
 * id, schema, cautions, sources and a worked example stand in one place.
 */

import type { Result } from '../problem/index.ts';
import { type AnswerExtras, type Calculation, unknownCalculation } from './calculation.ts';
import { nearest } from './near.ts';
import { brakeCalculations } from './rooms/brakes.ts';
import { codeCalculations } from './rooms/codes.ts';
import { gasCalculations } from './rooms/gas.ts';
import { hitchCalculations } from './rooms/hitch.ts';
import { hitchRatingCalculations } from './rooms/hitch-ratings.ts';
import { scaleCalculations } from './rooms/loads.ts';
import { powerCalculations } from './rooms/power.ts';
import { tireCalculations } from './rooms/tires.ts';
import { tireAirCalculations } from './rooms/tires-air.ts';
import { roadsideTireCalculations } from './rooms/tires-roadside.ts';
import { waterCalculations } from './rooms/water.ts';
import { runWith } from './run.ts';

export type {
  AnswerExtras,
  Calculation,
  CalculationRoom,
  CalculationSource,
  CalculationSourceKind,
} from './calculation.ts';
export { quantityText } from './calculation.ts';
export type { CalculationField } from './describe.ts';
export { inputFields, inputJsonSchema, outputFields, outputJsonSchema } from './describe.ts';
export { calculationsDocument } from './document.ts';
export type { Envelope, Law } from './envelope.ts';

/** Every calculation, room by room. */
export const calculations: readonly Calculation[] = [
  ...codeCalculations,
  ...tireCalculations,
  ...tireAirCalculations,
  ...roadsideTireCalculations,
  ...scaleCalculations,
  ...hitchCalculations,
  ...hitchRatingCalculations,
  ...gasCalculations,
  ...powerCalculations,
  ...waterCalculations,
  ...brakeCalculations,
];

const byId = new Map(calculations.map((one) => [one.id, one]));

/** The calculation of an id, or undefined. */
export function calculation(id: string): Calculation | undefined {
  return byId.get(id);
}

/**
 * Runs a calculation on unknown JSON.
 *
 * @returns the answer with its cautions, or Problems that name the field: `calculation.unknown`, `calculation.field-missing`,
 * `calculation.field-unknown`, `calculation.field-invalid`, `calculation.input`, and those of quantities, dates and rooms
 * @example runCalculation('tire-load', { size: 'ST225/75R15', family: 'ST', loadRange: 'D', pressure: '65 psi' })
 */
export function runCalculation(id: string, json: unknown): Result<AnswerExtras & Record<string, unknown>> {
  const found = byId.get(id);
  return found === undefined ? unknownCalculation(id, nearest(id, [...byId.keys()])) : runWith(found, json);
}
