/**
 * `wheel-torque`: the torque of wheel nuts by stud, wheel and nut, in stages, with the follow-ups on the road.
 *
 * Sources: the charts in tables/wheel-torque.ts. Where several hold, the answer is what they have in common; where they have
 * nothing in common there is no answer but the handbook. Follow-ups after 10, 25 and 50 miles: five makers agree.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { type Span, type WheelTorqueRow, wheelTorques } from './tables/wheel-torque.ts';

export interface TorqueSpan {
  readonly low: Quantity;
  readonly high: Quantity;
}

export interface WheelTorque {
  /** First and second pass, in star order. */
  readonly stages: readonly TorqueSpan[];
  readonly final: TorqueSpan;
  /** Torque again after so far. */
  readonly followUps: readonly Quantity[];
  readonly sourcesUsed: readonly string[];
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

const CAUTIONS = [
  'The handbook of the trailer or axle outranks this table.',
  'Clean dry threads, no oil; start by hand; star order; wheel off the ground for the first stage; a torque wrench, never an impact wrench.',
  'A stud that turns, or threads engaged less than the stud’s diameter: do not tow.',
] as const;

function matches(
  row: WheelTorqueRow,
  stud: string,
  diameter: number | null,
  material: string | null,
  nut: string | null,
): boolean {
  // By the charts half-inch studs take 50 to 225 lb-ft, by the wheel: a figure without its wheel holds for no inch stud.
  const size =
    row.diameters.length === 0 ? stud.startsWith('M') : diameter !== null && row.diameters.includes(diameter);
  return (
    size &&
    // Charts that name only the wheel are drawn for half-inch studs; they say nothing about any other.
    (row.stud === stud || (row.stud === '' && stud === '1/2')) &&
    (row.material === 'any' || material === null || row.material === material) &&
    (row.nut === 'any' || nut === null || row.nut === nut)
  );
}

/** The most telling rows: those that name this nut where any does; charts before one maker's own figure. */
function chosen(rows: readonly WheelTorqueRow[], nut: string | null): readonly WheelTorqueRow[] {
  const named = nut === null ? [] : rows.filter((row) => row.nut === nut);
  const kept = named.length > 0 ? named : rows;
  const charts = kept.filter((row) => row.diameters.length > 0 && row.final[0] < row.final[1]);
  return charts.length > 0 ? charts : kept;
}

/** What the spans have in common, or null. */
function common(spans: readonly Span[]): Span | null {
  const low = Math.max(...spans.map((span) => span[0]));
  const high = Math.min(...spans.map((span) => span[1]));
  return low <= high ? [low, high] : null;
}

/**
 * @param input.stud `1/2`, `9/16`, `5/8`, `M12`
 * @param input.wheelDiameter rim diameter; needed for inch studs
 * @returns `brakes.torque-unknown` where no chart holds, `brakes.torque-differs` where charts contradict each other
 * @example stud 1/2, wheel 15 in → 20–25, 40–50, then 90–120 lb-ft; again after 10, 25, 50 mi
 */
export function wheelTorque(input: {
  readonly stud: string;
  readonly wheelDiameter?: Quantity | undefined;
  readonly material?: 'steel' | 'aluminium' | undefined;
  readonly nut?: 'cone' | 'flange' | undefined;
}): Result<WheelTorque> {
  const stud = input.stud
    .toUpperCase()
    .replace(/\s*(IN\.?|"|INCH)$/, '')
    .replace(/\s*X.*$/, '')
    .replace(/[\s]/g, '');
  const diameter =
    input.wheelDiameter === undefined ? null : Math.round(valueIn(input.wheelDiameter, 'in') * 100) / 100;
  const rows = chosen(
    wheelTorques.filter((row) => matches(row, stud, diameter, input.material ?? null, input.nut ?? null)),
    input.nut ?? null,
  );
  if (rows.length === 0) {
    return fail({
      code: 'brakes.torque-unknown',
      what: `No published chart for a ${input.stud} stud${diameter === null ? ' without the wheel’s diameter' : ` on a ${diameter} in wheel`}.`,
      where: diameter === null && !stud.startsWith('M') ? 'wheelDiameter' : 'stud',
      expected: 'a stud of 1/2, 9/16, 5/8 or M12, and the wheel’s rim diameter',
      next: 'Look in the handbook of the trailer or axle; do not guess.',
    });
  }
  const final = common(rows.map((row) => row.final));
  if (final === null || new Set(rows.map((row) => row.unit)).size > 1) {
    const told = [
      ...new Set(
        rows.map(
          (row) =>
            `${row.final[0] === row.final[1] ? row.final[0] : `${row.final[0]}–${row.final[1]}`} ${row.unit} (${row.source}${row.nut === 'any' ? '' : `, ${row.nut} nut`})`,
        ),
      ),
    ];
    return fail({
      code: 'brakes.torque-differs',
      what: `Published charts differ for this wheel: ${told.join('; ')}.`,
      where: input.nut === undefined ? 'nut' : 'stud',
      expected: 'the figure of your own handbook',
      next: 'Look in the handbook of the trailer or axle, or on the wheel; do not pick one.',
    });
  }
  const unit = rows[0]!.unit;
  const span = ([low, high]: Span): TorqueSpan => ({ low: quantity(low, unit), high: quantity(high, unit) });
  const staged = rows.filter((row) => row.stages.length === 2);
  const stages = [0, 1].flatMap((i) => {
    const stage = staged.length === 0 ? null : common(staged.map((row) => row.stages[i]!));
    return stage === null ? [] : [span(stage)];
  });
  const miles = [...new Set(rows.flatMap((row) => row.recheckMiles))].sort((a, b) => a - b);
  return ok({
    stages,
    final: span(final),
    followUps: (miles.length > 0 ? miles : [10, 25, 50]).map((mile) => quantity(mile, 'mi')),
    sourcesUsed: [...new Set(rows.map((row) => row.source))],
    limitedBy: rows.length > 1 ? 'what the charts have in common' : 'the one chart that holds',
    cautions: [...CAUTIONS],
  });
}
