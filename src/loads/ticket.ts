/** Scale tickets: steps, sums that must hold, and the doubt a step leaves. */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import {
  convert,
  formatQuantity,
  inRange,
  type Quantity,
  type QuantityRange,
  quantity,
  rangeProblem,
  valueIn,
} from '../quantity/index.ts';
import { RIG_WEIGHT, SCALE_STEPS } from './ranges.ts';

/** Step of a truck scale: commonly 20 lb (NIST Handbook 44, class III L vehicle scales; from memory). */
export const SCALE_STEP: Quantity = quantity(20, 'lb');

export interface Bounds {
  readonly low: Quantity;
  readonly high: Quantity;
}

/** Readings of one pass; `total` where the ticket prints one. */
export interface VehiclePass {
  readonly front: Quantity;
  readonly rear: Quantity;
  readonly total?: Quantity | undefined;
}

export interface CoupledPass extends VehiclePass {
  readonly axles: Quantity;
}

/** The problem of a scale's step, or null. */
export function stepProblem(step: Quantity | undefined): Problem | null {
  if (step === undefined || step.value > 0) return rangeProblem([['step', step, SCALE_STEPS]]);
  return {
    code: 'loads.step',
    what: 'A scale has a step above zero.',
    where: 'step',
    expected: 'the smallest change the scale shows, commonly 20 lb',
  };
}

/** Every reading of a pass is a weight above zero that an axle, or a rig, can have. */
export function weightProblem(
  readings: Readonly<Record<string, Quantity | undefined>>,
  pass: string,
  limits: QuantityRange = RIG_WEIGHT,
): Problem | null {
  for (const [name, reading] of Object.entries(readings)) {
    if (reading === undefined) continue;
    const held = inRange(reading, { ...limits, least: -limits.most });
    if (!held.ok) return { ...held.problems[0]!, where: `${pass}.${name}` };
    if (valueIn(reading, 'lb') < WEIGHT_LEAST_LB) {
      return {
        code: 'loads.reading',
        what: `${formatQuantity(reading)} is no weight of a standing axle.`,
        where: `${pass}.${name}`,
        expected: 'a weight above zero',
      };
    }
  }
  return null;
}

/** Less than this is no weight of anything on a rig, lb. */
const WEIGHT_LEAST_LB = 1;

/** So many steps a reading must be for its rounding to be small beside it (our own choice). */
const STEPS_LEAST = 10;

/** The problem of a reading that is hardly more than the scale's step, or null: such a scale weighs trucks, not this. */
export function coarseProblem(readings: readonly Quantity[], step: Quantity, pass: string): Problem | null {
  const least = STEPS_LEAST * valueIn(step, 'lb');
  const coarse = readings.find((reading) => valueIn(reading, 'lb') < least);
  if (coarse === undefined) return null;
  return {
    code: 'loads.scale-coarse',
    what: `${formatQuantity(coarse)} on a scale that shows steps of ${formatQuantity(step)} tells too little.`,
    where: pass,
    expected: `readings of at least ${STEPS_LEAST} steps`,
    next: 'Weigh on a finer scale.',
  };
}

/** The parts of a ticket against its printed total: each figure is rounded by half a step. */
export function sumProblem(
  parts: readonly Quantity[],
  total: Quantity | undefined,
  step: Quantity,
  pass: string,
): Problem | null {
  if (total === undefined) return null;
  const sum = parts.reduce((pounds, part) => pounds + valueIn(part, 'lb'), 0);
  const off = Math.abs(sum - valueIn(total, 'lb'));
  if (off <= ((parts.length + 1) / 2) * valueIn(step, 'lb') + 1e-6) return null;
  return {
    code: 'loads.ticket-sum',
    what: `The pieces of this ticket make ${formatQuantity(convert(quantity(sum, 'lb'), total.unit), { digits: 0 })}, its total says ${formatQuantity(total)}.`,
    where: `${pass}.total`,
    expected: `pieces and total within the scale’s step (${formatQuantity(step)} a figure)`,
    next: 'Read the ticket again: a digit is wrong, or the tickets were mixed up.',
  };
}

/** Front and rear of a tow vehicle from any two of front, rear and total (a platform that holds one axle, or all). */
export function axlesOfVehicle(
  reading: {
    readonly front?: Quantity | undefined;
    readonly rear?: Quantity | undefined;
    readonly total?: Quantity | undefined;
  },
  step: Quantity,
  pass: string,
): Result<VehiclePass> {
  const weight = weightProblem({ front: reading.front, rear: reading.rear, total: reading.total }, pass);
  if (weight !== null) return fail(weight);
  const { front, rear, total } = reading;
  if (front !== undefined && rear !== undefined) {
    const sum = sumProblem([front, rear], total, step, pass);
    return sum === null ? ok({ front, rear, total }) : fail(sum);
  }
  const one = front ?? rear;
  if (one === undefined || total === undefined) {
    return fail({
      code: 'loads.reading-missing',
      what: 'Two of front, rear and total are needed.',
      where: pass,
      expected: 'for instance total and rear: front is what is left',
    });
  }
  const other = quantity(valueIn(total, one.unit) - one.value, one.unit);
  if (other.value <= 0) {
    return fail({
      code: 'loads.ticket-sum',
      what: 'One axle cannot weigh more than the whole vehicle.',
      where: `${pass}.total`,
      expected: 'a total above each of its axles',
    });
  }
  return ok(front === undefined ? { front: other, rear: one } : { front: one, rear: other });
}

/**
 * The least and the most a figure can be, when every reading may be off by half a step: tried at every corner. Right for
 * figures that are monotone in each reading, as sums, shares and restorations are.
 */
export function corners(
  readings: readonly number[],
  halfStep: number,
  figure: (values: readonly number[]) => number,
): { low: number; high: number } {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let mask = 0; mask < 2 ** readings.length; mask++) {
    const value = figure(readings.map((reading, i) => reading + (mask & (1 << i) ? halfStep : -halfStep)));
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return { low, high };
}
