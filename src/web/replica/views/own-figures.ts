import { formatDate, isPlainDate } from '../../../dates/index.ts';
import { settingOf, settingsOf } from '../../../logbook/index.ts';
import { FREE_DAYS_DEFAULT } from '../../../plan/index.ts';
import { fail, ok, type Problem } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';
import { numberWithin } from '../number-within.ts';
import type { Field } from './form-fields.ts';
import type { OwnForm } from './own-forms.ts';
import { slugOf } from './slug.ts';

const plain = { group: '', required: true, value: '', help: '' };
const units = (names: readonly string[]) => names.map((name) => ({ value: name, label: name }));

/** From a crawl to what no trailer tire is made for. */
const SPEEDS = { mph: [20, 90], 'km/h': [30, 145] } as const;

/** The speed that is kept to on the road. */
export const speed: OwnForm = {
  fields({ state }) {
    const said = settingOf(state, 'speed-max');
    const unit = said?.unit ?? (settingOf(state, 'units') === 'metric' ? 'km/h' : 'mph');
    return [
      {
        ...{ ...plain, path: 'speed', label: 'Fastest on the road', type: 'quantity', unit },
        value: said === undefined ? '' : String(said.value),
        units: units([unit, ...Object.keys(SPEEDS).filter((other) => other !== unit)]),
      },
    ];
  },
  read(_keeper, values) {
    const unit = values('speed#unit') === 'km/h' ? 'km/h' : 'mph';
    const [least, most] = SPEEDS[unit];
    const read = numberWithin(values('speed'), least, most, unit, 'speed');
    return read.ok ? ok({ key: 'speed-max', value: { value: read.value, unit } }) : read;
  },
};

const DAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
/** Monday first, as a week of work goes. */
const ORDER = [1, 2, 3, 4, 5, 6, 0];

/** Hours free on each day of the week, Sunday first; 0 for none. */
function weekHours({ state }: Keeper): number[] {
  const said = settingOf(state, 'free-days');
  const free = said ?? FREE_DAYS_DEFAULT;
  return DAYS.map((_, day) => (free.weekdays.includes(day) ? (said?.hoursOn?.[`${day}` as '0'] ?? free.hours) : 0));
}

/** The free days of a usual week, each with its hours. */
export function weekText(keeper: Keeper): string {
  const hours = weekHours(keeper);
  return ORDER.flatMap((day) => (hours[day] === 0 ? [] : [`${DAYS[day]!.slice(0, 3)} ${hours[day]} h`])).join(', ');
}

/** The week: hours on each day, none where it is not free. */
export const week: OwnForm = {
  fields(keeper) {
    const hours = weekHours(keeper);
    return ORDER.map(
      (day): Field => ({
        ...{ ...plain, path: `hours-${day}`, label: DAYS[day]!, type: 'quantity', required: false },
        ...{ ifEmpty: '', placeholder: 'none', units: units(['h']), unit: 'h' },
        value: hours[day] === 0 ? '' : String(hours[day]),
      }),
    );
  },
  read(_keeper, values) {
    const problems: Problem[] = [];
    const free = ORDER.flatMap((day): [day: number, hours: number][] => {
      const text = values(`hours-${day}`);
      const read = numberWithin(text === '' ? '0' : text, 0, 24, 'hours', `hours-${day}`);
      if (!read.ok) problems.push(...read.problems);
      return read.ok && read.value > 0 ? [[day, read.value]] : [];
    });
    const [first, ...more] = problems;
    if (first !== undefined) return fail(first, ...more);
    // The usual hours are those of most days: the schema keeps one figure and the days that differ.
    const counts = new Map<number, number>();
    for (const [, hours] of free) counts.set(hours, (counts.get(hours) ?? 0) + 1);
    const usual = [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? FREE_DAYS_DEFAULT.hours;
    const others = free.filter(([, hours]) => hours !== usual);
    const value = {
      weekdays: free.map(([day]) => day),
      hours: usual,
      ...(others.length > 0 ? { hoursOn: Object.fromEntries(others) } : {}),
    };
    return ok({ key: 'free-days', value });
  },
};

/** A day other than the rule: a holiday spent at home, a Saturday given away. */
export const singleDay: OwnForm = {
  fields: () => [
    { ...plain, path: 'date', label: 'Day', type: 'date' },
    { ...plain, path: 'hours', label: 'Hours, 0 for none', type: 'number' },
  ],
  read({ today }, values) {
    const problems: Problem[] = [];
    const date = values('date');
    if (!isPlainDate(date) || date < today)
      problems.push({
        ...{ code: 'web.figure', what: 'Say which day', where: 'date' },
        expected: `a date from ${formatDate(today, 'day')} on`,
      });
    const read = numberWithin(values('hours'), 0, 24, 'hours', 'hours');
    if (!read.ok) problems.push(...read.problems);
    const [first, ...more] = problems;
    if (first !== undefined) return fail(first, ...more);
    return ok({ key: `day/${date}`, value: { hours: read.ok ? read.value : 0 } });
  },
};

/** Somebody to call at the roadside. */
export const call: OwnForm = {
  fields: () => [
    { ...plain, path: 'name', label: 'Name', type: 'text' },
    { ...plain, path: 'number', label: 'Number', type: 'tel' },
  ],
  read({ state }, values) {
    const [name, number] = [values('name'), values('number')];
    const problems: Problem[] = [
      ...(name === '' ? [{ code: 'web.figure', what: 'Say whom to call', where: 'name', expected: 'a name' }] : []),
      ...(/\d/.test(number)
        ? []
        : [{ code: 'web.figure', what: `“${number}” is no number`, where: 'number', expected: 'a telephone number' }]),
    ];
    const [first, ...more] = problems;
    if (first !== undefined) return fail(first, ...more);
    const known = settingsOf(state, 'call');
    const base = slugOf(name);
    // Two of one name are two to call; the same one again has a new number.
    const key =
      [...known].find(([, one]) => one.name === name)?.[0] ?? (known.has(base) ? `${base}-${known.size}` : base);
    return ok({ key: `call/${key}`, value: { name, number } });
  },
};
