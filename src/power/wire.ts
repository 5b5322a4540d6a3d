/**
 * `wire-drop` and `wire-gauge`: volts lost on the way there and back.
 *
 * Source: NEC chapter 9 table 8 (ohms a thousand feet at 75 °C, uncoated copper, direct current); at another temperature
 * R₂ = R₁·(1 + 0.00323·(T₂ − 75)), the table's own note (from memory). Drop = 2·I·R·L/1000, L one way in feet.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { type WireRow, wires } from './wire-table.ts';

export interface WireDrop {
  readonly drop: Quantity;
  readonly share: Quantity;
  /** Heat lost in the wire. */
  readonly loss: Quantity;
  /** What arrives. */
  readonly voltageAtLoad: Quantity;
  /** Highest fuse for this wire in a low-voltage circuit; null where not known. */
  readonly fuseMax: Quantity | null;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const NOMINAL = quantity(12, 'V');

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

function wireProblem(current: Quantity, length: Quantity, voltage: Quantity) {
  const [amps, feet, volts] = [valueIn(current, 'A'), valueIn(length, 'ft'), valueIn(voltage, 'V')];
  if (amps > 0 && feet > 0 && volts > 0) return null;
  return {
    code: 'power.circuit',
    what: 'A circuit has current, length and voltage above zero.',
    where: amps <= 0 ? 'current' : feet <= 0 ? 'length' : 'voltage',
    expected: 'a value above zero; length one way',
  };
}

/**
 * @param input.length one way; the way back is counted
 * @param input.temperature of the copper; 75 °C where not given, which is on the safe side
 * @example 12 A, 30 ft, 12 AWG → 1.43 V
 */
export function wireDrop(input: {
  readonly current: Quantity;
  readonly length: Quantity;
  readonly gauge: string;
  readonly voltage?: Quantity | undefined;
  readonly temperature?: Quantity | undefined;
}): Result<WireDrop> {
  const voltage = input.voltage ?? NOMINAL;
  const wrong = wireProblem(input.current, input.length, voltage);
  if (wrong !== null) return fail(wrong);
  const wire = wireOf(input.gauge);
  if (!wire.ok) return wire;
  const celsius = input.temperature === undefined ? 75 : valueIn(input.temperature, 'degC');
  if (celsius < -60 || celsius > 150)
    return fail({
      code: 'power.wire-temperature',
      what: 'No wire in a rig is that cold or that hot.',
      where: 'temperature',
      expected: 'a temperature between −60 and 150 °C',
    });
  const amps = valueIn(input.current, 'A');
  const drop = (2 * amps * ohmsAt(wire.value, celsius) * valueIn(input.length, 'ft')) / 1000;
  const volts = valueIn(voltage, 'V');
  if (drop >= volts)
    return fail({
      code: 'power.wire-too-thin',
      what: 'Nothing arrives: the whole voltage is lost in the wire.',
      where: 'gauge',
      expected: 'a thicker wire, a shorter run or less current',
    });
  const { fuseMax } = wire.value;
  const cautions =
    fuseMax !== null && amps > fuseMax ? [`More than the ${fuseMax} A this wire may be fused for: it overheats.`] : [];
  if (drop / volts > 0.1)
    cautions.push(
      'More than 10 % is lost: electric brakes, jacks and refrigerators suffer (common practice: 3 % for what matters, 10 % for lamps).',
    );
  return ok({
    drop: quantity(drop, 'V'),
    share: quantity((100 * drop) / volts, '%'),
    loss: quantity(drop * amps, 'W'),
    voltageAtLoad: quantity(volts - drop, 'V'),
    fuseMax: fuseMax === null ? null : quantity(fuseMax, 'A'),
    limitedBy:
      cautions.length > 0 && fuseMax !== null && amps > fuseMax
        ? 'the fuse the wire allows'
        : 'the resistance of the wire',
    assumed: [
      ...(input.voltage === undefined ? ['voltage: 12 V'] : []),
      ...(input.temperature === undefined ? ['temperature: copper at 75 °C'] : []),
    ],
    cautions,
  });
}

/** `wire-gauge`: the thinnest wire that keeps the drop and may carry the current; null where none of the table does. */
export function wireGauge(input: {
  readonly current: Quantity;
  readonly length: Quantity;
  readonly dropMax: Quantity;
  readonly voltage?: Quantity | undefined;
}): Result<{
  readonly gauge: string | null;
  readonly drop: Quantity | null;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}> {
  const voltage = input.voltage ?? NOMINAL;
  const wrong = wireProblem(input.current, input.length, voltage);
  if (wrong !== null) return fail(wrong);
  const share = valueIn(input.dropMax, 'ratio');
  if (share <= 0 || share >= 1)
    return fail({
      code: 'power.drop-max',
      what: 'Some voltage is lost in every wire, and not all of it.',
      where: 'dropMax',
      expected: 'a share such as 3 % or 10 %',
    });
  const amps = valueIn(input.current, 'A');
  const dropOf = (row: WireRow) => (2 * amps * row.ohmsStranded * valueIn(input.length, 'ft')) / 1000;
  const keeps = (row: WireRow) => dropOf(row) <= share * valueIn(voltage, 'V');
  const carries = (row: WireRow) => row.fuseMax === null || amps <= row.fuseMax;
  const found = wires.find((row) => keeps(row) && carries(row));
  const byCurrent = found !== undefined && wires.find(keeps) !== found;
  return ok({
    gauge: found?.gauge ?? null,
    drop: found === undefined ? null : quantity(dropOf(found), 'V'),
    limitedBy:
      found === undefined
        ? 'the table: no wire in it is thick enough'
        : byCurrent
          ? 'the fuse the wire allows'
          : 'the voltage drop',
    cautions: ['A fuse protects the wire: no larger than the wire allows, close to the battery.'],
  });
}
