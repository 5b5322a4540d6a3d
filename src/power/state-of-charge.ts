/**
 * `soc-by-voltage` and `soc-by-gravity`: how full a battery is.
 *
 * Sources. Flooded lead-acid: a battery maker's table of rested volts and specific gravity at 80 °F; freezing points: a vehicle
 * maker's storage chart and a US Army manual, which agree. LiFePO4: a chart on the web with no standard behind it: its plateau is
 * so flat that 0.1 V can be 30 % of charge. Hydrometer correction 0.004 for 10 °F from 80 °F (the same battery maker). Voltage is
 * not corrected for temperature: sources disagree, and rested voltage barely moves with it.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convertLike, type Quantity, quantity, valueIn } from '../quantity/index.ts';

export type Chemistry = 'flooded' | 'lifepo4';

type Curve = readonly (readonly [at: number, percent: number])[];

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
export const FREEZING: readonly (readonly [gravity: number, fahrenheit: number])[] = [
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

function along(curve: readonly (readonly [number, number])[], x: number): number {
  if (x <= curve[0]![0]) return curve[0]![1];
  for (let i = 1; i < curve.length; i++) {
    const [x0, y0] = curve[i - 1]!;
    const [x1, y1] = curve[i]!;
    if (x <= x1) return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
  }
  return curve.at(-1)![1];
}

export interface StateOfCharge {
  readonly stateOfCharge: Quantity;
  readonly uncertainty: { readonly stateOfCharge: { readonly low: Quantity; readonly high: Quantity } };
  /** Where the battery would freeze at this charge; null for lithium. */
  readonly freezing: Quantity | null;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** What a handheld meter and a rest of a few hours leave open, volts (common practice, no source). */
const METER_VOLTS: Readonly<Record<Chemistry, number>> = { flooded: 0.05, lifepo4: 0.1 };

/** Gravity of a flooded cell at a charge, the table read the other way round. */
function gravityAt(percent: number): number {
  return along(
    GRAVITY.map(([gravity, full]) => [full, gravity] as const),
    percent,
  );
}

/**
 * State of charge from rested voltage, by straight lines between the rows of the table.
 *
 * @param input.cells number of 12 V batteries in series; 1 by default
 * @example flooded, 12.55 V → 87.5 %
 */
export function socByVoltage(input: {
  readonly voltage: Quantity;
  readonly chemistry: Chemistry;
  readonly cells?: number | undefined;
}): Result<StateOfCharge> {
  const cells = input.cells ?? 1;
  const volts = valueIn(input.voltage, 'V') / cells;
  if (volts < 5 || volts > 16) {
    return fail({
      code: 'power.voltage',
      what: `${volts.toFixed(2)} V is not the rested voltage of a 12 V battery.`,
      where: 'voltage',
      expected: 'volts across the posts, nothing charging, nothing drawing, after some hours of rest',
    });
  }
  const curve = REST_VOLTS[input.chemistry];
  const percent = along(curve, volts);
  const doubt = METER_VOLTS[input.chemistry];
  const top = curve.at(-1)![0];
  const cautions =
    input.chemistry === 'lifepo4'
      ? [
          'Voltage tells little about a lithium battery: count the ampere-hours instead. Never charge it below freezing.',
        ]
      : [];
  if (volts > top + doubt)
    cautions.push(
      'Above the full rest voltage: it is charging or has surface charge. Rest it some hours and read again.',
    );
  if (volts < curve[0]![0]) cautions.push('Below empty: charge it soon; a lead-acid battery left flat is spoiled.');
  const freezing =
    input.chemistry === 'flooded' ? quantity(Math.round(along(FREEZING, gravityAt(percent))), 'degF') : null;
  if (freezing !== null && freezing.value > 0)
    cautions.push('So flat it can freeze and burst. Never charge a frozen battery.');
  return ok({
    stateOfCharge: quantity(percent, '%'),
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

/** State of charge of a flooded cell from a hydrometer, corrected to 80 °F. */
export function socByGravity(input: {
  readonly gravity: number;
  readonly temperature: Quantity;
}): Result<StateOfCharge & { readonly gravityCorrected: number }> {
  const corrected = input.gravity + GRAVITY_A_DEGREE * (valueIn(input.temperature, 'degF') - 80);
  if (!(input.gravity > 0.99 && input.gravity < 1.4)) {
    return fail({
      code: 'power.gravity',
      what: `${input.gravity} is no specific gravity of battery acid.`,
      where: 'gravity',
      expected: 'a number between 1.000 and 1.300, such as 1.225',
    });
  }
  const step = 0.005;
  const percent = along(GRAVITY, corrected);
  return ok({
    stateOfCharge: quantity(percent, '%'),
    uncertainty: {
      stateOfCharge: {
        low: quantity(along(GRAVITY, corrected - step), '%'),
        high: quantity(along(GRAVITY, corrected + step), '%'),
      },
    },
    freezing: convertLike(quantity(along(FREEZING, corrected), 'degF'), input.temperature),
    gravityCorrected: corrected,
    limitedBy: 'the hydrometer',
    cautions: [
      'Acid: goggles and gloves. Cells more than 0.050 apart: the battery is failing (common practice, no source).',
    ],
  });
}
