import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  addMonths,
  addMonthsToDay,
  dateOf,
  dayNumber,
  dayOfYear,
  daysBetween,
  formatDate,
  formatLabelDate,
  isLeap,
  isPlainDate,
  monthOf,
  monthRange,
  monthsBetween,
  parseDate,
  weekdayOf,
  yearOf,
} from './index.ts';

// Outside check: Temporal's plain dates (ECMAScript proposal, temporal-polyfill).
describe('against Temporal, every day of 1900 to 2100', () => {
  const start = Temporal.PlainDate.from('1900-01-01');
  const first = dayNumber('1900-01-01');
  const count = start.until('2101-01-01').days;

  it('numbers, names, weekdays and days of the year are the same', () => {
    expect(first).toBe(Temporal.PlainDate.from('1970-01-01').until(start).days);
    let date = start;
    for (let i = 0; i < count; i++) {
      const text = dateOf(first + i);
      if (text !== date.toString() || dayNumber(text) !== first + i) expect(text).toBe(date.toString());
      if (weekdayOf(first + i) !== date.dayOfWeek % 7) expect.fail(`weekday of ${text}`);
      if (dayOfYear(text) !== date.dayOfYear || isLeap(date.year) !== date.inLeapYear) expect.fail(`year of ${text}`);
      if (yearOf(text) !== date.year || monthOf(text) !== date.month) expect.fail(text);
      date = date.add({ days: 1 });
    }
  });

  it('adds months with the end of the month clamped, and counts them back', () => {
    for (let i = 0; i < count; i += 13) {
      const text = dateOf(first + i);
      const date = Temporal.PlainDate.from(text);
      for (const months of [-25, -12, -1, 0, 1, 2, 11, 12, 13, 60, 144]) {
        const ours = addMonths(text, months);
        if (ours !== date.add({ months }).toString()) expect(`${text} ${ours}`).toBe(date.add({ months }).toString());
        if (addMonthsToDay(first + i, months) !== dayNumber(ours)) expect.fail(ours);
      }
      const to = addDays(text, (i * 7) % 4000);
      // Temporal does not count 31 July to 30 June as eleven months done; a due date set by adding months must.
      const months = monthsBetween(text, to);
      const reached = Temporal.PlainDate.compare(date.add({ months }), to) <= 0;
      const passed = Temporal.PlainDate.compare(date.add({ months: months + 1 }), to) <= 0;
      const clamped = date.day > Temporal.PlainDate.from(to).day;
      if (!reached || passed) expect.fail(`${text} to ${to}: ${months} months`);
      if (!clamped && months !== date.until(to, { largestUnit: 'months' }).months) expect.fail(`${text} ${to}`);
      if (daysBetween(text, to) !== date.until(to).days) expect.fail(to);
    }
  });
});

describe('parseDate', () => {
  it('takes ISO dates only, and says why a date cannot be', () => {
    expect(parseDate(' 2026-06-12 ')).toEqual({ ok: true, value: '2026-06-12' });
    expect(isPlainDate('2024-02-29')).toBe(true);
    const codeOf = (text: string) => {
      const read = parseDate(text);
      return read.ok ? 'ok' : read.problems[0]?.code;
    };
    expect(codeOf('12.6.2026')).toBe('date.format');
    expect(codeOf('2026-13-01')).toBe('date.impossible');
    expect(codeOf('2026-02-29')).toBe('date.impossible');
    expect(codeOf('0026-02-20')).toBe('date.out-of-range');
  });

  it('gives the days of a month', () => {
    expect(monthRange('2028-02')).toEqual({ ok: true, value: { from: '2028-02-01', to: '2028-02-29' } });
    expect(monthRange('2028-14').ok).toBe(false);
    expect(monthRange('2028').ok).toBe(false);
  });

  it('throws on a broken invariant', () => {
    expect(() => dayNumber('tomorrow')).toThrow('invariant');
  });
});

describe('formatDate', () => {
  it('writes the day before the month', () => {
    expect(formatDate('2026-06-12')).toBe('Fri 12 Jun 2026');
    expect(formatDate('2026-06-12', 'long')).toBe('Friday 12 June 2026');
    expect(formatDate('2026-06-12', 'day')).toBe('12 Jun 2026');
    expect(formatDate('2026-06-12', 'month')).toBe('Jun 2026');
    expect(formatDate('2026-06-12', 'no-year')).toBe('Fri 12 Jun');
    expect(formatDate('2026-06-12', 'iso')).toBe('2026-06-12');
  });
});

describe('a date off a label', () => {
  it.each([
    ['2018', '2018'],
    ['2020-10', 'Oct 2020'],
    ['2020-10-18', '18 Oct 2020'],
  ])('%s is read as %s, no finer than it was written', (label, read) => {
    expect(formatLabelDate(label)).toBe(read);
  });
});
