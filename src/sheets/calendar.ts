import { addDays } from '../dates/index.ts';
import type { Desk } from '../desk/index.ts';
import { tripsOf } from '../logbook/index.ts';
import type { OutlookItem } from '../outlook/index.ts';
import type { Plan, YardDay } from '../plan/index.ts';

/** One all-day event. `uid` stays the same for the same thing, so that a calendar moves it instead of adding another. */
interface CalendarEvent {
  readonly uid: string;
  readonly first: string;
  /** Last day, included. */
  readonly last: string;
  readonly summary: string;
  readonly description: string;
  /** False: the day is marked but not taken. */
  readonly busy: boolean;
}

/**
 * The rig's calendar as iCalendar text (RFC 5545): trips, yard days with their jobs, and the days by which safety upkeeps run out.
 * All events are whole days, so no time zone is needed. `DTSTAMP` is the instant of the newest entry: the same logbook gives the same
 * text.
 */
export function calendarFeed(desk: Desk, plan: Plan, rig: string): string {
  const events = [...tripEvents(desk), ...plan.days.map(yardEvent), ...deadlines(desk, plan)];
  const stamp = stampOf(desk);
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Rigworthy//Rigworthy//EN',
    'CALSCALE:GREGORIAN',
    'METHOD:PUBLISH',
    `X-WR-CALNAME:${escaped(rig)}`,
    ...events.flatMap((event) => eventLines(event, rig, stamp)),
    'END:VCALENDAR',
  ];
  return `${lines.map(folded).join('\r\n')}\r\n`;
}

function tripEvents({ state }: Desk): CalendarEvent[] {
  return tripsOf(state).map(({ id, plan, done }) => ({
    uid: `trip-${id}`,
    first: done?.body.left ?? plan.body.leave,
    last: done?.body.back ?? plan.body.return,
    summary: plan.body.chance < 1 && !done ? `${plan.body.name} (tentative)` : plan.body.name,
    description: done ? 'Done.' : 'Planned.',
    busy: true,
  }));
}

function yardEvent(day: YardDay): CalendarEvent {
  const hours = `${Math.floor(day.minutes / 60)} h ${String(day.minutes % 60).padStart(2, '0')}`;
  const jobs = day.jobs.map((job) => `${job.title}${job.place ? ` (${job.place})` : ''}: ${job.why}`);
  const parts = day.parts.map(
    (part) => `${part.what}, ${part.quantity}${part.orderBy ? `, order by ${part.orderBy}` : ''}`,
  );
  return {
    uid: `yard-${day.date}`,
    first: day.date,
    last: day.date,
    summary: `Yard day: ${day.jobs.length} ${day.jobs.length === 1 ? 'job' : 'jobs'}, ${hours}`,
    description: [...jobs, ...(parts.length ? ['', 'Parts:', ...parts] : [])].join('\n'),
    busy: true,
  };
}

/** The day by which each safety upkeep must be done: when it runs out at the earliest (10 %), unless a yard day takes care of it before. */
function deadlines(desk: Desk, plan: Plan): CalendarEvent[] {
  const planned = new Map(plan.days.flatMap((day) => day.jobs.map((job) => [job.item, day.date] as const)).reverse());
  return desk
    .outlook()
    .items.filter((item): item is OutlookItem & { dates: { p10: string } } => {
      const { p10 } = item.dates;
      if (item.severity !== 'safety' || item.state !== 'runs' || item.clock === 'departure' || p10 === null)
        return false;
      return p10 >= desk.now && p10 <= plan.through && (planned.get(item.id) ?? '9999') >= p10;
    })
    .map((item) => ({
      uid: `due-${item.id}`,
      first: item.dates.p10,
      last: item.dates.p10,
      summary: `Due: ${item.title}${item.place ? ` (${item.place})` : ''}`,
      description: item.why,
      busy: false,
    }));
}

function stampOf({ state, now }: Desk): string {
  let newest = `${now}T00:00:00Z`;
  let first = true;
  for (const entry of state.entries.values()) {
    if (first || entry.at > newest) newest = entry.at;
    first = false;
  }
  return `${newest.slice(0, 19).replace(/[-:]/g, '')}Z`;
}

function eventLines(
  { uid, first, last, summary, description, busy }: CalendarEvent,
  rig: string,
  stamp: string,
): string[] {
  const date = (day: string): string => day.replaceAll('-', '');
  return [
    'BEGIN:VEVENT',
    `UID:${escaped(uid)}@${rig}.rigworthy.invalid`,
    `DTSTAMP:${stamp}`,
    `DTSTART;VALUE=DATE:${date(first)}`,
    `DTEND;VALUE=DATE:${date(addDays(last, 1))}`,
    `SUMMARY:${escaped(summary)}`,
    `DESCRIPTION:${escaped(description)}`,
    `TRANSP:${busy ? 'OPAQUE' : 'TRANSPARENT'}`,
    'END:VEVENT',
  ];
}

/** RFC 5545, 3.3.11: backslash, semicolon, comma and line ends are escaped; other control characters are not allowed. */
function escaped(text: string): string {
  const plain = [...text].filter((c) => c === '\n' || c >= ' ').join('');
  return plain.replaceAll('\\', '\\\\').replaceAll(';', '\\;').replaceAll(',', '\\,').replaceAll('\n', '\\n');
}

/** RFC 5545, 3.1: no line longer than 75 octets; the next begins with a space. A character is never split. */
function folded(line: string): string {
  const parts: string[] = [];
  let part = '';
  let octets = 0;
  for (const character of line) {
    const size = octetsOf(character.codePointAt(0)!);
    if (octets + size > 75) {
      parts.push(part);
      part = ' ';
      octets = 1;
    }
    part += character;
    octets += size;
  }
  return [...parts, part].join('\r\n');
}

const octetsOf = (code: number): number => (code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4);
