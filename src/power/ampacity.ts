/**
 * What a wire may carry where it runs, and the fuses that protect it.
 *
 * Rule: the table's figure at 30 °C, times the share left by the heat around it, times the share left by the wires beside it; never
 * above the low-voltage ceiling of its gauge. Sources: ampacity-table.ts. A load of three hours or more counts for a quarter more
 * (NEC 210.19(A), 215.2, from memory). The fuse is a standard size not above the ampacity: the next size up that NEC 240.4(B)
 * allows in buildings is not taken here.
 */

import { type Quantity, quantity, valueIn } from '../quantity/index.ts';
import {
  AMBIENT_SHARE,
  AMPACITY,
  BUNDLE_SHARE,
  FUSES,
  type Insulation,
  type Laying,
  LOW_VOLTAGE_CEILING,
} from './ampacity-table.ts';

/** Where a wire runs, as it was given; what is left out is taken on the safe side. */
export interface WireRunInput {
  /** °C printed on the wire. */
  readonly insulation?: Insulation | undefined;
  readonly laying?: Laying | undefined;
  /** Air around the wire at its hottest. */
  readonly ambient?: Quantity | undefined;
  /** Current-carrying wires in one sleeve or bundle, both wires of this circuit counted. */
  readonly together?: number | undefined;
  /** Three hours or more at a stretch. */
  readonly continuous?: boolean | undefined;
}

export interface WireRun {
  readonly insulation: Insulation;
  readonly laying: Laying;
  readonly ambientCelsius: number;
  readonly together: number;
  readonly continuous: boolean;
  readonly assumed: readonly string[];
}

/** A closed locker or an engine space in the sun; the temperature 33 CFR 183.425 counts for engine spaces. */
const AMBIENT_ASSUMED = quantity(50, 'degC');
const TOGETHER_ASSUMED = 6;
const CONTINUOUS_FACTOR = 1.25;

/** Fills in what was not given: the poorest insulation, an enclosed run, 50 °C, six wires together, a continuous load. */
export function wireRun(input: WireRunInput): WireRun {
  const assumed = [
    ...(input.insulation === undefined ? ['insulation: 60 °C, the lowest; read what is printed on the wire'] : []),
    ...(input.laying === undefined ? ['laying: enclosed, in a wall, sleeve or conduit'] : []),
    ...(input.ambient === undefined ? ['ambient: 50 °C (122 °F), a closed locker or engine space in the sun'] : []),
    ...(input.together === undefined ? ['together: 4 to 6 current-carrying wires in one bundle'] : []),
    ...(input.continuous === undefined ? ['continuous: three hours or more'] : []),
  ];
  return {
    insulation: input.insulation ?? '60',
    laying: input.laying ?? 'enclosed',
    ambientCelsius: valueIn(input.ambient ?? AMBIENT_ASSUMED, 'degC'),
    together: input.together ?? TOGETHER_ASSUMED,
    continuous: input.continuous ?? true,
    assumed,
  };
}

/** Share by the first band that reaches a value; none where it lies beyond the last. */
function share(bands: readonly (readonly [upTo: number, share: number])[], value: number): number {
  return bands.find(([upTo]) => value <= upTo)?.[1] ?? 0;
}

/** By the tables of one way of laying. */
function tabled(gauge: string, laying: Laying, { insulation, ambientCelsius, together }: WireRun): number {
  return (
    AMPACITY[laying][gauge]![insulation] *
    share(AMBIENT_SHARE[insulation], ambientCelsius) *
    share(BUNDLE_SHARE[laying], together)
  );
}

/**
 * Amperes a gauge may carry on a run; 0 where the heat alone is more than the insulation stands. An enclosed wire never carries
 * more than the same one in the open: of the two tables the lower.
 */
export function ampacity(gauge: string, run: WireRun): number {
  const open = tabled(gauge, 'open', run);
  const corrected = run.laying === 'open' ? open : Math.min(open, tabled(gauge, 'enclosed', run));
  return Math.min(corrected, LOW_VOLTAGE_CEILING[gauge] ?? corrected);
}

/** Amperes the wire and its fuse are chosen for: a quarter more where the load is continuous. */
export function countedAmperes(amperes: number, run: WireRun): number {
  return amperes * (run.continuous ? CONTINUOUS_FACTOR : 1);
}

/** The largest standard fuse not above an ampacity, or null where the smallest is. */
export function fuseFor(amperes: number): number | null {
  return FUSES.findLast((size) => size <= amperes) ?? null;
}

/** The smallest standard fuse that holds a load; null beyond the largest. */
export function fuseHolding(amperes: number): number | null {
  return FUSES.find((size) => size >= amperes) ?? null;
}
