/**
 * `wire-drop` and `wire-gauge`: whether a wire carries its load, the fuse that protects it, and the volts lost there and back.
 *
 * Source of the drop: NEC chapter 9 table 8 (ohms a thousand feet at 75 °C, uncoated copper, direct current); at another
 * temperature R₂ = R₁·(1 + 0.00323·(T₂ − 75)), the table's own note (from memory). Drop = 2·I·R·L/1000, L one way in feet.
 * Sources of what a wire may carry: ampacity.ts.
 */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';
import {
  ampacity,
  countedAmperes,
  fuseFor,
  fuseHolding,
  type WireRun,
  type WireRunInput,
  wireRun,
} from './ampacity.ts';
import { type Circuit, type CircuitInput, circuit } from './circuit.ts';
import { type WireRow, wires } from './wire-table.ts';

/** `carries`: with a fuse that protects it. `no-reserve`: the current itself, but no such fuse. `overloaded`: not even that. */
export type WireVerdict = 'carries' | 'no-reserve' | 'overloaded';
export const WIRE_VERDICTS = ['carries', 'no-reserve', 'overloaded'] as const;

export interface WireDrop {
  readonly verdict: WireVerdict;
  /** What the load comes to; of an inverter at its cut-out. */
  readonly current: Quantity;
  /** What the wire may carry where it runs. */
  readonly ampacity: Quantity;
  readonly drop: Quantity;
  readonly share: Quantity;
  /** Heat lost in the wire. */
  readonly loss: Quantity;
  /** What arrives. */
  readonly voltageAtLoad: Quantity;
  /** Largest standard fuse for this wire; null where the wire may carry less than the smallest. */
  readonly fuseMax: Quantity | null;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const COPPER_CELSIUS = 75;
const FUSE_CAUTION =
  'The fuse protects the wire: within 7 in of the battery (marine practice, from memory), made for direct current and for the battery’s short-circuit current.';
const TERMINAL_CAUTION =
  'Lugs, fuse holders and switches have limits of their own, often 75 °C: the lowest rating in the run decides. The handbook of what is fed outranks this.';

/** A wire by its gauge as written: `10`, `10 AWG`, `#10`, `4/0`, `0000`. */
export function wireOf(gauge: string): Result<WireRow> {
  const plain = gauge.toUpperCase().replace(/AWG|GA(UGE)?\.?|#|NO\.?|\s/g, '');
  const key = /^0{1,4}$/.test(plain) ? `${plain.length}/0` : plain;
  const row = wires.find((wire) => wire.gauge === key);
  if (row !== undefined) return ok(row);
  return fail({
    code: 'power.wire-gauge',
    what: `\`${gauge}\` is no wire of the table.`,
    where: 'gauge',
    expected: `an American wire gauge: ${wires.map((wire) => wire.gauge).join(', ')}`,
  });
}

/** Ohms a thousand feet of a wire at a temperature in °C. */
export function ohmsAt(row: WireRow, celsius: number): number {
  return row.ohmsStranded * (1 + 0.00323 * (celsius - 75));
}

/** Copper as hot as its insulation allows, and at least as the table has it: the most drop. */
function copperCelsius(run: WireRun): number {
  return Math.max(COPPER_CELSIUS, Number(run.insulation));
}

/** Volts lost there and back. */
function dropOf(row: WireRow, { amperes, feet }: Circuit, celsius: number): number {
  return (2 * amperes * ohmsAt(row, celsius) * feet) / 1000;
}

function runProblem(run: WireRun): Problem | null {
  if (!Number.isInteger(run.together) || run.together < 2)
    return {
      code: 'power.wires-together',
      what: 'A circuit has two wires, there and back, and wires are counted whole.',
      where: 'together',
      expected: '2 where the pair runs alone, more in a bundle',
    };
  if (run.ambientCelsius < -60 || run.ambientCelsius >= Number(run.insulation))
    return {
      code: 'power.wire-ambient',
      what: `Air of ${Math.round(run.ambientCelsius)} °C leaves an insulation of ${run.insulation} °C nothing to carry a current with.`,
      where: 'ambient',
      expected: 'air cooler than the insulation stands',
      next: 'Take a wire of a higher rating, or another way.',
    };
  return null;
}

/** The verdict, and the cautions that go with it. */
function judged(row: WireRow, amperes: number, run: WireRun) {
  const carries = ampacity(row.gauge, run);
  const fuse = fuseFor(carries);
  const counted = countedAmperes(amperes, run);
  const verdict: WireVerdict = amperes > carries ? 'overloaded' : counted > (fuse ?? 0) ? 'no-reserve' : 'carries';
  return { carries, fuse, verdict };
}

const figure = (value: number) => Number(value.toFixed(1));

/**
 * @param input.temperature of the copper; where not given as hot as the insulation allows, at least 75 °C: the safe side
 * @example 12 A, 20 ft, 14 AWG of 75 °C in the open → 1.51 V lost
 */
export function wireDrop(
  input: CircuitInput &
    WireRunInput & {
      readonly gauge: string;
      readonly temperature?: Quantity | undefined;
    },
): Result<WireDrop> {
  const asked = circuit(input);
  if (!asked.ok) return asked;
  const wire = wireOf(input.gauge);
  if (!wire.ok) return wire;
  const run = wireRun(input);
  const wrong = runProblem(run);
  if (wrong !== null) return fail(wrong);
  const celsius = input.temperature === undefined ? copperCelsius(run) : valueIn(input.temperature, 'degC');
  if (celsius < -60 || celsius > 150)
    return fail({
      code: 'power.wire-temperature',
      what: 'No wire in a rig is that cold or that hot.',
      where: 'temperature',
      expected: 'a temperature between −60 and 150 °C',
    });
  const { amperes, volts } = asked.value;
  const drop = dropOf(wire.value, asked.value, celsius);
  if (drop >= volts)
    return fail({
      code: 'power.wire-too-thin',
      what: 'Nothing arrives: the whole voltage is lost in the wire.',
      where: 'gauge',
      expected: 'a thicker wire, a shorter run or less current',
    });
  const { carries, fuse, verdict } = judged(wire.value, amperes, run);
  const cautions = [
    ...(verdict === 'overloaded'
      ? [
          `OVERLOADED: ${figure(amperes)} A in a wire that may carry ${figure(carries)} A here. It overheats and can start a fire: do not use it.`,
        ]
      : verdict === 'no-reserve'
        ? [
            `No reserve: ${figure(countedAmperes(amperes, run))} A counted (a quarter more where continuous), and the largest fuse that protects this wire is ${fuse ?? 0} A. Take a thicker wire.`,
          ]
        : []),
    ...(drop / volts > 0.1
      ? [
          'More than 10 % is lost: electric brakes, jacks and refrigerators suffer (common practice: 3 % for what matters, 10 % for lamps).',
        ]
      : []),
    FUSE_CAUTION,
    TERMINAL_CAUTION,
  ];
  return ok({
    verdict,
    current: quantity(amperes, 'A'),
    ampacity: quantity(carries, 'A'),
    drop: quantity(drop, 'V'),
    share: quantity((100 * drop) / volts, '%'),
    loss: quantity(drop * amperes, 'W'),
    voltageAtLoad: quantity(volts - drop, 'V'),
    fuseMax: fuse === null ? null : quantity(fuse, 'A'),
    limitedBy: verdict === 'carries' ? 'the resistance of the wire' : 'what the wire may carry',
    assumed: [
      ...asked.value.assumed,
      ...run.assumed,
      ...(input.temperature === undefined ? [`temperature: copper at ${celsius} °C`] : []),
    ],
    cautions,
  });
}

export interface WireGauge {
  readonly gauge: string;
  readonly current: Quantity;
  readonly ampacity: Quantity;
  readonly drop: Quantity;
  /** Standard fuses that hold the load and protect the wire. */
  readonly fuse: { readonly low: Quantity; readonly high: Quantity };
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * `wire-gauge`: the thinnest wire to 4/0 that keeps the drop, carries the load with its reserve, and has a standard fuse that
 * does both.
 *
 * @returns `power.no-wire` with the reason where no wire of the table does
 */
export function wireGauge(input: CircuitInput & WireRunInput & { readonly dropMax: Quantity }): Result<WireGauge> {
  const asked = circuit(input);
  if (!asked.ok) return asked;
  const run = wireRun(input);
  const wrong = runProblem(run);
  if (wrong !== null) return fail(wrong);
  const share = valueIn(input.dropMax, 'ratio');
  if (!(share > 0 && share <= 0.2))
    return fail({
      code: 'power.drop-max',
      what: 'Some voltage is lost in every wire, and a fifth of it is too much for anything.',
      where: 'dropMax',
      expected: 'a share such as 3 % or 10 %',
    });
  const { amperes, volts } = asked.value;
  const celsius = copperCelsius(run);
  const counted = countedAmperes(amperes, run);
  const keeps = (row: WireRow) => dropOf(row, asked.value, celsius) <= share * volts;
  const holds = (row: WireRow) => counted <= (fuseFor(ampacity(row.gauge, run)) ?? 0);
  const found = wires.find((row) => keeps(row) && holds(row));
  if (found === undefined) return fail(noWire(wires.some(holds), asked.value, run));
  const carries = ampacity(found.gauge, run);
  return ok({
    gauge: found.gauge,
    current: quantity(amperes, 'A'),
    ampacity: quantity(carries, 'A'),
    drop: quantity(dropOf(found, asked.value, celsius), 'V'),
    fuse: { low: quantity(fuseHolding(counted)!, 'A'), high: quantity(fuseFor(carries)!, 'A') },
    limitedBy: wires.find(keeps) === found ? 'the voltage drop' : 'what the wire may carry',
    assumed: [...asked.value.assumed, ...run.assumed],
    cautions: [FUSE_CAUTION, TERMINAL_CAUTION],
  });
}

/** Why no wire of the table will do, and what to change. */
function noWire(carried: boolean, { amperes }: Circuit, run: WireRun): Problem {
  const given = `${run.insulation} °C insulation, ${run.laying === 'open' ? 'in the open' : 'enclosed'}, air of ${Math.round(run.ambientCelsius)} °C, ${run.together} wires together`;
  return carried
    ? {
        code: 'power.no-wire',
        what: `No wire to 4/0 keeps the drop at ${figure(amperes)} A over this length.`,
        where: 'length',
        expected: 'a shorter run, less current, or more loss allowed',
        next: 'Move the battery nearer, or raise the system to 24 V or 48 V.',
      }
    : {
        code: 'power.no-wire',
        what: `No wire to 4/0 may carry ${figure(countedAmperes(amperes, run))} A (${figure(amperes)} A${run.continuous ? ' and a quarter more' : ''}) with ${given}.`,
        where: 'current',
        expected: 'less current, or what is true of this run: insulation, laying, ambient, together',
        next: 'Raise the system to 24 V or 48 V, or follow the cable table of the inverter’s handbook.',
      };
}
