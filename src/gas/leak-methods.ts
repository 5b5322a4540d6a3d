/**
 * Published pressure tests of LP gas piping, and what each asks for before it is a test at all.
 *
 * Sources: Washington WAC 296-150C-1460 (commercial coaches: 10 to 14 in. w.c. with appliances connected, 10 minutes, air and pipe
 * at one temperature); WAC 296-150V-1450 (vendor units: 10 psi on the piping alone, 15 minutes, a gauge read to 0.1 psi);
 * NFPA 54 annex C as a trade magazine of 2016 describes it (9 ± 1/2 in. w.c., so that the regulators are unlocked; its 3 minutes
 * are from memory). A heater maker's manual (2019) asks the same ten minutes an inch below the regulator's setting, and forbids
 * sun and heat on the pipe: warming gas hides a leak.
 */

import { type QuantityRange, quantity, range, valueIn } from '../quantity/index.ts';

export type LeakMethod = 'appliances-connected' | 'regulator-unlocked' | 'piping-alone';
export const LEAK_METHODS = ['appliances-connected', 'regulator-unlocked', 'piping-alone'] as const;

export interface LeakTest {
  readonly start: QuantityRange;
  readonly minutes: number;
  /** Coarsest gauge, pascal. */
  readonly stepMost: number;
  readonly gauge: string;
  readonly source: string;
}

/** A manometer shows two tenths of an inch of water (common practice, no source). */
const MANOMETER = { stepMost: valueIn(quantity(0.2, 'inH2O'), 'Pa'), gauge: '0.2 in. w.c.' };

export const LEAK_TESTS: Readonly<Record<LeakMethod, LeakTest>> = {
  'appliances-connected': {
    start: range(10, 14, 'inH2O'),
    minutes: 10,
    ...MANOMETER,
    source: 'WAC 296-150C-1460',
  },
  'regulator-unlocked': {
    start: range(8.5, 9.5, 'inH2O'),
    minutes: 3,
    ...MANOMETER,
    source: 'NFPA 54 annex C',
  },
  // The rule names no most: 30 psi is the end of the gauge it is read on (common practice, no source).
  'piping-alone': {
    start: range(10, 30, 'psi'),
    minutes: 15,
    stepMost: valueIn(quantity(0.1, 'psi'), 'Pa'),
    gauge: '0.1 psi',
    source: 'WAC 296-150V-1450',
  },
};
