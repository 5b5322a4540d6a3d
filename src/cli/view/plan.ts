import { formatDate } from '../../dates/index.ts';
import { placesText } from '../../logbook/index.ts';
import type { Plan, YardDay } from '../../plan/index.ts';
import { formatQuantity } from '../../quantity/index.ts';
import { minutesText, moneyText, paragraph } from './text.ts';

export interface PlanView {
  /** Every yard day to the horizon; else the first few. */
  readonly all: boolean;
  readonly why: boolean;
}

const DAYS_FIRST = 4;

/** The plan for a terminal: yard days with their jobs in working order, what is done on the way, what comes round by itself. */
export function planText(plan: Plan, title: string, view: PlanView): string {
  const lines = [title, paragraph(headline(plan))];
  if (plan.onRoad.length && (view.why || view.all))
    lines.push(
      paragraph(
        `On the road: ${plan.onRoad.map(({ title, place, chance }) => `${title} (${place}) ${(100 * chance).toFixed(1)} %`).join('; ')}.`,
      ),
    );
  for (const warning of plan.warnings) lines.push(paragraph(warning, '! '));
  const days = view.all ? plan.days : plan.days.slice(0, DAYS_FIRST);
  for (const day of days) lines.push('', ...dayLines(day, view.why));
  if (days.length < plan.days.length)
    lines.push(
      '',
      `${plan.days.length - days.length} more yard days until ${formatDate(plan.through, 'day')}: --all shows them.`,
    );
  lines.push(...onTheWayLines(plan.onTheWay));
  if (plan.routine.length)
    lines.push(
      '',
      paragraph(
        `Comes round more often than yard days do: ${plan.routine
          .map((one) => one.title)
          .filter(first)
          .join(', ')}.`,
      ),
    );
  if (plan.later.length) lines.push('', `${plan.later.length} can wait beyond ${formatDate(plan.through, 'day')}.`);
  return `${lines.join('\n')}\n`;
}

/** Trip by trip and place by place, each thing once with how many parts it speaks of. */
function onTheWayLines(all: Plan['onTheWay']): string[] {
  const lines: string[] = [];
  for (const ofTrip of groupsOf(all, (one) => one.trip).values()) {
    lines.push('', paragraph(`On the way: ${ofTrip[0].tripName}`));
    const places = groupsOf(ofTrip, ({ at }) =>
      at === 'leaving' ? 'on leaving' : `at ${formatQuantity(at, { digits: 0 })}`,
    );
    for (const [place, things] of places) {
      lines.push(`  ${place}`);
      for (const [title, parts] of groupsOf(things, (one) => one.title))
        lines.push(paragraph(parts.length > 1 ? `${title}, ${parts.length} parts` : title, '  - '));
    }
  }
  return lines;
}

const first = (title: string, index: number, all: readonly string[]): boolean => all.indexOf(title) === index;

function headline(plan: Plan): string {
  const gap = plan.cost > 0 ? (100 * (plan.cost - plan.bound)) / plan.cost : 0;
  const count = plan.days.length === 1 ? 'One yard day' : `${plan.days.length} yard days`;
  const road =
    plan.chanceOnRoad < 0.005
      ? 'No safety upkeep runs out on the road.'
      : `Chance that a safety upkeep runs out on the road: ${Math.round(100 * plan.chanceOnRoad)} %.`;
  return `${count}, ${minutesText(plan.minutes)} until ${formatDate(plan.through, 'day')}. ${road} Cost ${moneyText(plan.cost)}, work and risk together; no plan costs less than ${moneyText(plan.bound)} (${gap.toFixed(1)} % below).`;
}

function dayLines(day: YardDay, why: boolean): string[] {
  const lines = [
    `${formatDate(day.date)}: ${minutesText(day.minutes)} of ${minutesText(day.minutesFree)} free, ${moneyText(day.cost)}`,
  ];
  if (day.setups.length)
    lines.push(
      paragraph(`Set-ups: ${day.setups.map((one) => `${one.title} (${minutesText(one.minutes)})`).join(', ')}`, '  '),
    );
  for (const [title, jobs] of groupsOf(day.jobs, (job) => job.title)) {
    const places = placesText(jobs.map((job) => job.place));
    const minutes = jobs.reduce((sum, job) => sum + job.minutes, 0);
    lines.push(
      paragraph(
        `${title}${places === '' ? '' : ` (${places})`}, ${minutesText(minutes)}${jobs.some((job) => job.pinned) ? ', pinned' : ''}`,
        '  - ',
      ),
    );
    if (why) for (const reason of new Set(jobs.map((job) => job.why))) lines.push(paragraph(reason, '      '));
  }
  if (day.tools.length) lines.push(paragraph(`Tools: ${day.tools.join('; ')}`, '  '));
  for (const part of day.parts)
    lines.push(
      paragraph(
        `${part.what}, ${part.quantity}, ${moneyText(part.cost)}${part.orderBy ? `, order by ${formatDate(part.orderBy, 'day')}` : ''}`,
        '  + ',
      ),
    );
  return lines;
}

/** Things of one key together, in the order in which they come. */
function groupsOf<T>(things: readonly T[], keyOf: (thing: T) => string): Map<string, [T, ...T[]]> {
  const groups = new Map<string, [T, ...T[]]>();
  for (const thing of things) {
    const known = groups.get(keyOf(thing));
    if (known) known.push(thing);
    else groups.set(keyOf(thing), [thing]);
  }
  return groups;
}
