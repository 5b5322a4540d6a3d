import { formatNumber, formatQuantity, type Quantity } from '../quantity/index.ts';
import type { Clock } from './types.ts';

/** `12 months`, `10 years`: months as a person says them. */
export function monthsText(months: number): string {
  if (months >= 24 && months % 12 === 0) return `${months / 12} years`;
  if (months === 1) return 'month';
  return `${formatNumber(months, 1)} months`;
}

const list = (items: readonly string[], last = 'and') =>
  items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} ${last} ${items.at(-1)}`;

const miles = (each: readonly Quantity[]) => list(each.map((mile) => formatNumber(mile.value, 0)));

/** One clock in words: `every 12,000 mi`, `from 6 years, by 10 years after it was made`. Triggers of an `after` clock are ids. */
export function clockText(clock: Clock): string {
  switch (clock.kind) {
    case 'miles':
      return `every ${formatQuantity(clock.every)}`;
    case 'months':
      return `every ${monthsText(clock.every)}`;
    case 'nights':
      return `every ${clock.every} nights in use`;
    case 'hours':
      return `every ${clock.every} hours (${clock.counter})`;
    case 'age':
      return ageText(clock);
    case 'season':
      return clock.before === 'first trip' ? 'before the first trip of the year' : 'before the first freeze of autumn';
    case 'departure':
      if (clock.withinDays === 0) return 'before each departure, the same day';
      return `before each departure, within ${clock.withinDays === 1 ? 'a day' : `${clock.withinDays} days`}`;
    case 'after':
      return afterText(clock);
    case 'limit': {
      const limit = clock.limit === undefined ? `its \`${clock.limitFact}\`` : formatQuantity(clock.limit);
      return `when ${clock.reading} is ${clock.side} ${limit}`;
    }
  }
}

function ageText(clock: Clock & { kind: 'age' }): string {
  if (clock.label === 'required') return 'by the date on its label, and by nothing else';
  const parts = [
    ...(clock.from === undefined ? [] : [`worth it from ${monthsText(clock.from)}`]),
    ...(clock.by === undefined ? [] : [`by ${monthsText(clock.by)}`]),
  ];
  const other = clock.sizes
    ? `; LT sizes from ${monthsText(clock.sizes.LT.from)}, by ${monthsText(clock.sizes.LT.by)}`
    : '';
  return `${parts.join(', ')} after it was ${clock.countedFrom}${other}; a date on its label governs`;
}

function afterText(clock: Clock & { kind: 'after' }): string {
  const when = [
    ...(clock.atMiles.length === 0 ? [] : [`${miles(clock.atMiles)} ${clock.atMiles[0]!.unit}`]),
    ...(clock.atDays.length === 0
      ? []
      : [clock.atDays.every((day) => day === 0) ? 'the same day' : `${list(clock.atDays.map(String))} days`]),
  ];
  const cause = [
    ...clock.setups.map((id) => `set-up \`${id}\``),
    ...clock.upkeeps.map((id) => `\`${id}\``),
    ...(clock.fitted === true ? ['a new one was fitted'] : []),
  ];
  return `${list(when, 'or')} after ${list(cause, 'or')}`;
}
