/**
 * `soc-by-voltage` and `soc-by-gravity`: how full a battery is.
 *
 * Sources. Flooded lead-acid: a battery maker's table of rested volts and specific gravity at 80 °F; freezing points: a vehicle
 * maker's storage chart and a US Army manual, which agree. LiFePO4: a chart on the web with no standard behind it: its plateau is
 * so flat that 0.1 V can be 30 % of charge. Hydrometer correction 0.004 for 10 °F from 80 °F (the same battery maker). Voltage is
 * not corrected for temperature: sources disagree, and rested voltage barely moves with it.
 *
 * Freezing is given for the weakest acid that the doubt of the reading leaves open, and between rows never colder than the curve
 * can be.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convertLike, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { along, atMostAlong, type Curve } from './curve.ts';

export type Chemistry = 'flooded' | 'lifepo4';

/** [volts at rest, per cent], the lowest first. */
export const REST_VOLTS: Readonly<Record<Chemistry, Curve>> = {
  flooded: [
    [11.89, 0],
    [12.06, 25],
    [12.24, 50],
    [12.45, 75],
    [12.65, 100],
  ],
  lifepo4: [
    [10, 0],
    [12, 10],
    [12.8, 20],
    [13, 30],
    [13.2, 40],
    [13.3, 70],
    [13.4, 90],
    [13.6, 100],
  ],
};

/** [specific gravity at 80 °F, per cent]. */
export const GRAVITY: Curve = [
  [1.12, 0],
  [1.155, 25],
  [1.19, 50],
  [1.225, 75],
  [1.265, 100],
];

/** [specific gravity, freezing point °F]: where two sources differ by a degree, the warmer. */
export const FREEZING: Curve = [
  [1, 32],
  [1.05, 27],
  [1.1, 19],
  [1.15, 5],
  [1.2, -16],
  [1.225, -35],
  [1.25, -62],
  [1.265, -75],
  [1.28, -90],
];

export interface StateOfCharge {
  readonly stateOfCharge: Quantity;
  readonly uncertainty: { readonly stateOfCharge: { readonly low: Quantity; readonly high: Quantity } };
  /** The warmest at which the battery would freeze at this charge; null for lithium. */
  readonly freezing: Quantity | null;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** What a handheld meter and the rest leave open, volts (common practice, no source). */
const METER_VOLTS: Readonly<Record<Chemistry, number>> = { flooded: 0.05, lifepo4: 0.1 };
/** Above this it is charging, or has surface charge: full rest voltage and 0.2 V (common practice, no source). */
const RESTED_MOST: Readonly<Record<Chemistry, number>> = { flooded: 12.85, lifepo4: 13.8 };
/** Battery makers ask for 6 to 24 hours without charge or load before rest voltage is read (from memory). */
const REST_HOURS = 6;
/** Volts of a cell are its specific gravity and 0.845 (handbook rule, from memory), so six cells lose 6 V for each 1.0. */
const VOLTS_PER_GRAVITY = 6;

/** Gravity of a flooded battery at a rest voltage: by the table, and below empty by the rule of the cell. */
function gravityAt(volts: number): number {
  const [[empty]] = REST_VOLTS.flooded as readonly [readonly [number, number]];
  const percent = along(REST_VOLTS.flooded, volts);
  const inTable = along(
    GRAVITY.map(([gravity, full]) => [full, gravity] as const),
    percent,
  );
  return inTable - Math.max(0, empty - volts) / VOLTS_PER_GRAVITY;
}

/**
 * State of charge from rested voltage, by straight lines between the rows of the table.
 *
 * @param input.rest time since it was last charged or drawn from: 6 h at least
 * @example flooded, 12.55 V after 12 h → 87.5 %
 */
export function socByVoltage(input: {
  readonly voltage: Quantity;
  readonly chemistry: Chemistry;
  readonly rest: Quantity;
}): Result<StateOfCharge> {
  const volts = valueIn(input.voltage, 'V');
  if (!(volts >= 5 && volts <= 16)) {
    return fail({
      code: 'power.voltage',
      what: `${volts.toFixed(2)} V is not the rested voltage of a 12 V battery.`,
      where: 'voltage',
      expected: 'volts across the posts of one 12 V battery, nothing charging, nothing drawing, after a rest',
      next: 'Measure batteries in series one by one: a bad one hides behind its neighbor.',
    });
  }
  if (!(valueIn(input.rest, 'h') >= REST_HOURS))
    return fail({
      code: 'power.not-rested',
      what: 'A battery just charged reads too high, one just drawn from too low.',
      where: 'rest',
      expected: `${REST_HOURS} h at least, nothing charging and nothing drawing`,
      next: 'Disconnect it, wait and read again; or use a hydrometer.',
    });
  if (volts > RESTED_MOST[input.chemistry])
    return fail({
      code: 'power.not-rested',
      what: `${volts.toFixed(2)} V is above any rest voltage: it is charging or has surface charge.`,
      where: 'voltage',
      expected: `up to ${RESTED_MOST[input.chemistry]} V`,
      next: 'Disconnect charger and sun, let it rest, and read again.',
    });
  const curve = REST_VOLTS[input.chemistry];
  const doubt = METER_VOLTS[input.chemistry];
  const flooded = input.chemistry === 'flooded';
  const cautions = flooded
    ? []
    : ['Voltage tells little about a lithium battery: count the ampere-hours instead. Never charge it below freezing.'];
  if (volts > curve.at(-1)![0] + doubt)
    cautions.push('Above the full rest voltage: surface charge, or a battery with stronger acid. Rest it longer.');
  if (volts < curve[0]![0]) cautions.push('Below empty: charge it soon; a battery left flat is spoiled.');
  const freezing = flooded ? quantity(Math.ceil(atMostAlong(FREEZING, gravityAt(volts - doubt))), 'degF') : null;
  if (freezing !== null && freezing.value > 0)
    cautions.push('So flat it can freeze and burst. Never charge a frozen battery.');
  return ok({
    stateOfCharge: quantity(along(curve, volts), '%'),
    uncertainty: {
      stateOfCharge: {
        low: quantity(along(curve, volts - doubt), '%'),
        high: quantity(along(curve, volts + doubt), '%'),
      },
    },
    freezing,
    limitedBy: 'the meter and the rest',
    cautions,
  });
}

/** Hydrometer correction for each °F away from 80 °F. */
const GRAVITY_A_DEGREE = 0.0004;
/** The step of a hydrometer's scale. */
const HYDROMETER_STEP = 0.005;

/** State of charge of a flooded cell from a hydrometer, corrected to 80 °F: the weakest cell's, where several were read. */
export function socByGravity(input: {
  readonly gravity: number;
  readonly temperature: Quantity;
}): Result<StateOfCharge & { readonly gravityCorrected: number }> {
  const corrected = input.gravity + GRAVITY_A_DEGREE * (valueIn(input.temperature, 'degF') - 80);
  if (!(input.gravity >= 1 && input.gravity <= 1.35)) {
    return fail({
      code: 'power.gravity',
      what: `${input.gravity} is no specific gravity of battery acid.`,
      where: 'gravity',
      expected: 'a number between 1.000 and 1.300, such as 1.225',
    });
  }
  const freezing = Math.ceil(atMostAlong(FREEZING, corrected - HYDROMETER_STEP));
  return ok({
    stateOfCharge: quantity(along(GRAVITY, corrected), '%'),
    uncertainty: {
      stateOfCharge: {
        low: quantity(along(GRAVITY, corrected - HYDROMETER_STEP), '%'),
        high: quantity(along(GRAVITY, corrected + HYDROMETER_STEP), '%'),
      },
    },
    freezing: convertLike(quantity(freezing, 'degF'), input.temperature),
    gravityCorrected: corrected,
    limitedBy: 'the hydrometer',
    cautions: [
      ...(corrected > 1.3
        ? ['Stronger than any full battery: acid was added, or the reading is wrong. It says nothing of the charge.']
        : []),
      ...(freezing > 0 ? ['So flat it can freeze and burst. Never charge a frozen battery.'] : []),
      'Acid: goggles and gloves. Cells more than 0.050 apart: the battery is failing (common practice, no source).',
    ],
  });
}
