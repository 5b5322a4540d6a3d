/**
 * `vaporization`: whether a cylinder gives its gas as fast as the appliances burn it.
 *
 * Sources: a burner maker's chart for 100 lb cylinders; for other sizes the gas serviceman's rule D·L·K (inches, BTU/h at
 * 0 °F; from memory), carried to other temperatures with that chart's own ratios above 0 °F and a motorhome manual's multipliers
 * below. Where chart and manual differ (1.48 against 2.00 from 0 to 20 °F) the lower one is used, and of the chart's ratios that
 * of the row in which warmth helps least. Under −20 °F, where the manual has no figure but none at −44 °F, nothing is promised. No
 * table for 20, 30 or 40 lb cylinders is published: the rule is an estimate.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convert, formatQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { coldMultipliers, VAPORIZATION_FAHRENHEIT, vaporization100lb } from './vaporization-table.ts';

export interface Vaporization {
  /** The heat the cylinder can give without end at this fill and temperature. */
  readonly continuous: Quantity;
  /** Whether that covers the draw; null where no draw was given. */
  readonly holds: boolean | null;
  readonly basis: 'chart' | 'rule-of-thumb';
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** K of the rule by share of fill; from memory. */
const FILL_K: readonly (readonly [share: number, k: number])[] = [
  [0.1, 45],
  [0.2, 60],
  [0.3, 70],
  [0.4, 80],
  [0.5, 90],
  [0.6, 100],
];

/** The coldest row of the manual that has a figure. */
const COLDEST_FAHRENHEIT = -20;

/** A straight line between the points of a rising table, held at its ends. */
function between(points: readonly (readonly [x: number, y: number])[], x: number): number {
  const first = points[0]!;
  if (x <= first[0]) return first[1];
  for (let i = 1; i < points.length; i++) {
    const [x0, y0] = points[i - 1]!;
    const [x1, y1] = points[i]!;
    if (x <= x1) return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
  }
  return points.at(-1)![1];
}

/** Share of the 0 °F figure under 0 °F; none under the last published row. */
function coldShare(fahrenheit: number): number {
  return fahrenheit < COLDEST_FAHRENHEIT ? 0 : between(coldMultipliers, fahrenheit);
}

/** Share of the 0 °F figure at a temperature in °F: never above any row of the chart. */
export function temperatureShare(fahrenheit: number): number {
  if (fahrenheit <= 0) return coldShare(fahrenheit);
  return between(
    VAPORIZATION_FAHRENHEIT.map(
      (f, i) => [f, Math.min(...vaporization100lb.map(([, row]) => row[i]! / row[0]!))] as const,
    ),
    fahrenheit,
  );
}

/** BTU/h of a 100 lb cylinder by the chart, between its rows and columns by straight lines, never beyond them. */
export function chart100lb(poundsLeft: number, fahrenheit: number): number {
  const atTemperature = vaporization100lb.map(([lb, row]) => {
    const warm = between(
      VAPORIZATION_FAHRENHEIT.map((f, i) => [f, row[i]!] as const),
      Math.max(0, fahrenheit),
    );
    return [lb, fahrenheit < 0 ? warm * coldShare(fahrenheit) : warm] as const;
  });
  const least = atTemperature[0]!;
  return poundsLeft < least[0] ? (least[1] * poundsLeft) / least[0] : between(atTemperature, poundsLeft);
}

/** BTU/h at 0 °F by the serviceman's rule: outside diameter and length in inches, share of fill. */
export function ruleAtZero(diameterInches: number, lengthInches: number, fill: number): number {
  const k = fill < 0.1 ? (45 * fill) / 0.1 : between(FILL_K, fill);
  return diameterInches * lengthInches * k;
}

/**
 * @param input.cylinder `100 lb` uses the chart, `other` the rule with diameter and length
 * @param input.fill what is in it as a share of the cylinder's size
 */
export function vaporization(input: {
  readonly cylinder: '100 lb' | 'other';
  readonly fill: Quantity;
  readonly temperature: Quantity;
  readonly diameter?: Quantity | undefined;
  readonly length?: Quantity | undefined;
  readonly draw?: Quantity | undefined;
}): Result<Vaporization> {
  const fill = valueIn(input.fill, 'ratio');
  if (!(fill >= 0 && fill <= 1))
    return fail({
      code: 'gas.fill',
      what: 'A cylinder is between empty and full.',
      where: 'fill',
      expected: 'a share from 0 to 100 %',
    });
  const fahrenheit = valueIn(input.temperature, 'degF');
  if (!(fahrenheit <= 130))
    return fail({
      code: 'gas.temperature',
      what: 'No cylinder may be that hot.',
      where: 'temperature',
      expected: 'an air temperature up to 130 °F (54 °C)',
    });
  let btu: number;
  if (input.cylinder === '100 lb') {
    btu = chart100lb(100 * fill, fahrenheit);
  } else {
    const [diameter, length] = [input.diameter, input.length].map((q) => (q === undefined ? 0 : valueIn(q, 'in'))) as [
      number,
      number,
    ];
    if (!(diameter > 0) || !(length > 0)) {
      return fail({
        code: 'gas.cylinder-size',
        what: 'The rule needs the cylinder’s outside diameter and its overall length.',
        where: !(diameter > 0) ? 'diameter' : 'length',
        expected: 'two lengths, such as 12 in and 23 in',
      });
    }
    btu = ruleAtZero(diameter, length, fill) * temperatureShare(fahrenheit);
  }
  const unit = input.draw?.unit ?? 'BTU/h';
  const draw = input.draw === undefined ? null : valueIn(input.draw, 'BTU/h');
  const holds = draw === null ? null : btu >= draw;
  if (draw !== null && !(draw >= 0))
    return fail({
      code: 'gas.draw',
      what: 'A draw is zero or more.',
      where: 'draw',
      expected: 'the heat rating of what burns, in BTU/h or kW',
    });
  const cautions = ['Frost on the cylinder means it gives all it can. Never heat a cylinder with flame or a heater.'];
  if (holds === false)
    cautions.unshift(
      `The cylinder gives about ${formatQuantity(convert(quantity(btu, 'BTU/h'), unit))} and the draw is more: change to the fuller one, or burn less.`,
    );
  if (btu === 0)
    cautions.unshift('Nothing can be counted on: in such cold, or empty, a cylinder may give no gas, and heat fails.');
  if (input.cylinder !== '100 lb') cautions.push('A rule of thumb: no table for this size is published.');
  return ok({
    continuous: convert(quantity(btu, 'BTU/h'), unit),
    holds,
    basis: input.cylinder === '100 lb' ? 'chart' : 'rule-of-thumb',
    limitedBy: fahrenheit < 20 ? 'the cold' : 'the wetted surface of what is left',
    cautions,
  });
}
