import { formatDate } from '../dates/index.ts';
import type { Plan } from '../plan/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { SheetContext } from './context.ts';
import { gathered, hours, List, page } from './page.tsx';

const money = (value: number): string => formatQuantity({ value, unit: 'USD' }, { digits: 0 });

/** The season sheet: trips and yard days in order, what each takes, and when the rest runs out. */
export function seasonSheet({ desk, rig, foot, mark }: SheetContext, plan: Plan): string {
  const { trips } = desk.outlook();
  const system = desk.outlookModel().scene.system;
  const parts = plan.days.reduce((sum, day) => sum + day.parts.reduce((cost, part) => cost + part.cost, 0), 0);
  const lines = [
    ...trips.map((trip) => ({
      on: trip.leave,
      row: (
        <tr key={trip.trip}>
          <td class="day">{formatDate(trip.leave, 'no-year')}</td>
          <td>
            <b>{trip.name}</b>
            {trip.chance < 1 ? ' (tentative)' : ''}, back {formatDate(trip.return, 'no-year')}
            <span class="soft">
              , {formatQuantity(trip.miles.p10, { system, digits: 0 })} to{' '}
              {formatQuantity(trip.miles.p90, { system, digits: 0 })}
            </span>
          </td>
          <td class="n">{formatQuantity(trip.miles.p50, { system, digits: 0 })}</td>
        </tr>
      ),
    })),
    ...plan.days.map((day) => ({
      on: day.date,
      row: (
        <tr key={day.date}>
          <td class="day">{formatDate(day.date, 'no-year')}</td>
          <td>
            Yard day
            <div class="columns">
              <List items={gathered(day.jobs)} />
            </div>
          </td>
          <td class="n">{hours(day.minutes)}</td>
        </tr>
      ),
    })),
  ].sort((a, b) => (a.on < b.on ? -1 : 1));
  return page(
    {
      title: `${plan.days.length} yard days, ${hours(plan.minutes)}, ${money(parts)} of parts`,
      rig,
      on: `${formatDate(plan.now, 'day')} to ${formatDate(plan.through, 'day')}`,
      foot,
      mark,
      size: 'fine',
    },
    <>
      <p>
        Chance that a safety job runs out on the road, this plan kept: {Math.round(plan.chanceOnRoad * 100)} %. No plan
        costs less than {money(plan.bound)}; this one costs {money(plan.cost)}.
      </p>
      <List items={plan.warnings} />
      <table>
        <tbody>{lines.map((line) => line.row)}</tbody>
      </table>
      <h2>Not in this plan</h2>
      <div class="columns">
        {plan.later.map((job) => (
          <p class="due" key={job.item}>
            <span>
              {job.title}
              {job.place ? `, ${job.place}` : ''}
            </span>
            <span>{job.runsOut ? formatDate(job.runsOut, 'month') : 'as far as can be told, never'}</span>
          </p>
        ))}
      </div>
    </>,
  );
}
