import type { Catalog } from '../catalog/index.ts';
import { addMonths, daysBetween, formatDate, isPlainDate } from '../dates/index.ts';
import { formatQuantity, quantity, valueIn } from '../quantity/index.ts';
import type { Entry } from './entry.ts';
import { measured, type OutOfBounds } from './measured.ts';

/** First day of which a logbook can speak: no older rig is enrolled either. */
const FIRST_DAY = '1950-01-01';
/** Last day of which anything can speak: a label that is good beyond it was misread. */
const LAST_DAY = '2199-12-31';
/** Nobody plans a trip further ahead; a slip in the year is often further off. */
const PLANNED_AHEAD_MONTHS = 120;
/** More than 80 mph day and night. */
const MILES_A_DAY = 2000;
/** Speeds kept to on the road: from a crawl to what no trailer tire is made for. */
const SPEEDS = { mph: [20, 90], 'km/h': [30, 145] } as const;
/** Settings that say after a `/` what they speak of. */
const OF_SOMETHING: ReadonlySet<string> = new Set([
  'day',
  'fact',
  'pin',
  'override',
  'own-upkeep',
  'own-part-kind',
  'call',
]);

/**
 * Everything about an entry that cannot be, whatever else is in the logbook.
 *
 * @param catalog gives the ranges of readings and facts; without one only their dimensions' widest are known
 */
export function outOfBounds(entry: Entry, today: string, catalog?: Catalog): OutOfBounds[] {
  return [...measured(entry, catalog), ...days(entry, today), ...labels(entry), ...trip(entry), ...setting(entry)];
}

function* days(entry: Entry, today: string): Generator<OutOfBounds> {
  // Asked for trips alone: reckoning with months costs more than all else here.
  const furthest =
    entry.kind === 'trip' || entry.kind === 'trip-done' ? addMonths(today, PLANNED_AHEAD_MONTHS) : LAST_DAY;
  const said: [path: string, day: string][] = [['on', entry.on]];
  if (entry.kind === 'trip') said.push(['leave', entry.body.leave], ['return', entry.body.return]);
  if (entry.kind === 'trip-done') said.push(['left', entry.body.left]);
  if (entry.kind === 'paper' && entry.body.goodThrough > LAST_DAY)
    yield {
      path: 'goodThrough',
      what: `Nothing is good through ${entry.body.goodThrough}`,
      expected: `up to ${LAST_DAY}`,
      never: true,
    };
  for (const [path, day] of said) {
    if (day < FIRST_DAY)
      yield {
        path,
        what: `${formatDate(day, 'day')} is before there was such a rig`,
        expected: `a day from ${FIRST_DAY} on`,
      };
    if (day > LAST_DAY)
      yield { path, what: `${day} is beyond all planning`, expected: `a day up to ${LAST_DAY}`, never: true };
    // Of the day an entry speaks of it is told elsewhere that it is not to come.
    if (path !== 'on' && day > furthest)
      yield { path, what: `${formatDate(day, 'day')} is too far off to plan for`, expected: `a day up to ${furthest}` };
  }
  if (entry.kind === 'trip-done' && entry.body.back > entry.on) {
    const what = `Back on ${formatDate(entry.body.back, 'day')} is after the day of this entry`;
    yield { path: 'back', what, expected: `a day up to ${formatDate(entry.on, 'day')}` };
  }
}

/** Dates as labels and stamps give them: a year, a month or a day. */
function* labels(entry: Entry): Generator<OutOfBounds> {
  const said: (readonly [path: string, label: string | undefined])[] =
    entry.kind === 'fit'
      ? [
          ['madeOn', entry.body.madeOn],
          ['goodThrough', entry.body.goodThrough],
        ]
      : entry.kind === 'work'
        ? entry.body.done.map(({ goodThrough }, at) => [`done.${at}.goodThrough`, goodThrough] as const)
        : [];
  for (const [path, label] of said) {
    if (label === undefined) continue;
    // Asked first: our calendar ends there too, and would say no more than that there is no such day.
    if (label > LAST_DAY)
      yield { path, what: `Nothing is good through ${label}`, expected: `up to ${LAST_DAY}`, never: true };
    else if (!isPlainDate(`${label}-01-01`.slice(0, 10)))
      yield { path, what: `There is no day ${label}`, expected: 'YYYY, YYYY-MM or YYYY-MM-DD of the calendar' };
    else if (path === 'madeOn' && label > entry.on.slice(0, label.length))
      yield { path, what: `Made in ${label}, after it was fitted`, expected: `up to ${entry.on}` };
  }
}

function* trip(entry: Entry): Generator<OutOfBounds> {
  if (entry.kind !== 'trip' && entry.kind !== 'trip-done') return;
  const { miles, nights } = entry.body;
  const [from, to] = entry.kind === 'trip' ? [entry.body.leave, entry.body.return] : [entry.body.left, entry.body.back];
  const between = daysBetween(from, to);
  if (nights !== undefined && nights > between)
    yield {
      path: 'nights',
      what: `${nights} nights do not fit between ${from} and ${to}`,
      expected: `up to ${between}`,
    };
  if (miles.value <= 0)
    yield { path: 'miles', what: 'A trip has more than no miles', expected: 'more than 0, such as 640 mi' };
  const most = quantity(MILES_A_DAY * (between + 1), 'mi');
  if (valueIn(miles, 'mi') > most.value)
    yield {
      path: 'miles',
      what: `Nobody drives ${formatQuantity(miles)} from ${from} to ${to}`,
      expected: `up to ${formatQuantity(most)}`,
    };
  if (entry.kind !== 'trip') return;
  const { highest, lowest } = entry.body;
  if (highest && lowest && valueIn(highest, 'degF') < valueIn(lowest, 'degF'))
    yield {
      path: 'highest',
      what: 'The highest temperature is below the lowest',
      expected: `${formatQuantity(lowest)} or more`,
    };
}

function* setting(entry: Entry): Generator<OutOfBounds> {
  if (entry.kind !== 'set') return;
  const { key, value } = entry.body;
  const [kind, ...about] = key.split('/') as [string, ...string[]];
  const of = about.join('/');
  if (OF_SOMETHING.has(kind) && of === '')
    yield { path: 'key', what: `“${kind}” does not say what it speaks of`, expected: `${kind}/…` };
  if (kind === 'day' && of !== '' && !isPlainDate(of))
    yield { path: 'key', what: `“${of}” is no day`, expected: 'day/YYYY-MM-DD' };
  if (typeof value === 'string' && (kind === 'first-freeze' || kind === 'last-freeze') && !isPlainDate(`2024-${value}`))
    yield { path: 'value', what: `There is no ${value}`, expected: 'month and day, such as 10-15' };
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return;
  if (kind === 'pin' && typeof value.day === 'string' && !isPlainDate(value.day))
    yield { path: 'value.day', what: `“${value.day}” is no day`, expected: 'YYYY-MM-DD' };
  if (kind === 'speed-max' && typeof value.value === 'number' && (value.unit === 'mph' || value.unit === 'km/h')) {
    const [least, most] = SPEEDS[value.unit];
    if (value.value < least || value.value > most)
      yield {
        path: 'value',
        what: `${value.value} ${value.unit} is no speed to keep to with a trailer behind`,
        expected: `${least} to ${most} ${value.unit}`,
      };
  }
  if (kind === 'call') {
    if (typeof value.name === 'string' && value.name.trim() === '')
      yield { path: 'value.name', what: 'It is not said whom to call', expected: 'a name' };
    if (typeof value.number === 'string' && !/\d/.test(value.number))
      yield { path: 'value.number', what: `“${value.number}” is no number`, expected: 'a telephone number' };
  }
}
