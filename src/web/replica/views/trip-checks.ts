import { formatDate } from '../../../dates/index.ts';
import { tripsOf } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import { type Quantity, valueIn } from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';

interface TripBody {
  readonly trip?: string;
  readonly leave?: string;
  readonly return?: string;
  readonly back?: string;
  readonly miles?: Quantity;
  readonly cancelled?: boolean | undefined;
}

/** Miles of one day on the road that nobody drives with a trailer behind. */
const MILES_A_DAY = 1000;

/** What a form says of a trip beyond the schema, beside its field. */
export function tripProblems(kind: string, on: string, body: TripBody): Problem[] {
  const problems: Problem[] = [];
  const { miles } = body;
  if (miles && valueIn(miles, 'mi') <= 0)
    problems.push({
      code: 'web.trip-miles',
      what: 'A trip has more than no miles',
      where: 'miles',
      expected: '640 mi',
    });
  if (kind === 'trip-done' && body.back !== undefined && body.back > on)
    problems.push({
      code: 'web.trip-back',
      what: `Back on ${formatDate(body.back, 'day')} is after the day of this entry`,
      where: 'back',
      expected: `a day up to ${formatDate(on, 'day')}`,
    });
  return problems;
}

/** What may be meant all the same, and is said before it is written: a trip across another one, a pace that nobody drives. */
export function tripNotes(keeper: Keeper, body: TripBody): string[] {
  const { leave, return: back, miles } = body;
  if (leave === undefined || back === undefined || body.cancelled) return [];
  const notes = tripsOf(keeper.state)
    .filter((trip) => trip.id !== body.trip && !trip.done)
    .map((trip) => trip.plan.body)
    .filter((other) => other.leave <= back && other.return >= leave)
    .map(
      (other) =>
        `${other.name} is planned from ${formatDate(other.leave, 'no-year')} to ${formatDate(other.return, 'no-year')}: the rig can make only one of the two.`,
    );
  const days = Math.round((Date.parse(back) - Date.parse(leave)) / 86_400_000) + 1;
  if (miles && valueIn(miles, 'mi') > MILES_A_DAY * days)
    notes.push(`More than ${MILES_A_DAY.toLocaleString('en-US')} miles a day: is that meant?`);
  return notes;
}
