import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { calendarFeed } from '../../src/sheets/index.ts';
import { demoDesk } from '../support/demo.ts';
import { Folder } from '../support/keeping.ts';

/** Checked by two independent readers of RFC 5545: ical.js, and khal with Python’s icalendar. */
describe('the calendar feed of the demo rig', () => {
  const desk = demoDesk();
  const made = desk.plan({ workLimit: 60_000 });
  if (!made.ok) throw new Error(JSON.stringify(made.problems));
  const plan = made.value;
  const text = calendarFeed(desk, plan, 'marigold');
  const events = new ICAL.Component(ICAL.parse(text))
    .getAllSubcomponents('vevent')
    .map((component) => new ICAL.Event(component));

  it('parses, and every event has its own stable name', () => {
    expect(events.length).toBeGreaterThan(plan.days.length);
    expect(new Set(events.map((event) => event.uid)).size).toBe(events.length);
    expect(calendarFeed(desk, plan, 'marigold')).toBe(text);
  });

  it('has a whole day for each yard day, with its jobs and their reasons', () => {
    for (const day of plan.days) {
      const event = events.find((one) => one.uid.startsWith(`yard-${day.date}@`))!;
      expect(event.startDate.isDate).toBe(true);
      expect(event.startDate.toString()).toBe(day.date);
      expect(event.endDate.subtractDate(event.startDate).toSeconds()).toBe(86_400);
      for (const job of day.jobs) expect(event.description).toContain(job.why);
    }
  });

  it('has each trip from its first day to its last', () => {
    for (const trip of desk.outlook().trips) {
      const event = events.find((one) => one.uid.startsWith(`trip-${trip.trip}@`))!;
      expect(event.startDate.toString()).toBe(trip.leave);
      const end = event.endDate.clone();
      end.adjust(-1, 0, 0, 0);
      expect(end.toString()).toBe(trip.return);
    }
  });

  it('keeps to 75 octets a line and to CRLF', () => {
    for (const line of text.split('\r\n')) expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });

  it('is taken in by a calendar program, and again without anything twice', () => {
    const folder = new Folder();
    mkdirSync(folder.file('calendar'));
    writeFileSync(folder.file('feed.ics'), text);
    writeFileSync(folder.file('config'), khalConfig(folder));
    const khal = (...argv: string[]): string =>
      execFileSync('khal', ['-c', folder.file('config'), ...argv], {
        encoding: 'utf8',
        env: { ...process.env, LC_ALL: 'C.UTF-8', HOME: folder.path, XDG_CACHE_HOME: folder.path },
      });
    const listed = (): string[] => {
      const lines = khal(
        'list',
        '--day-format',
        '',
        '--format',
        '{uid}|{start-date}|{end-date}|{title}',
        '2015-01-01',
        '2035-01-01',
      );
      return [...new Set(lines.split('\n').filter((line) => line.includes('|')))].sort();
    };
    const expected = events
      .map(({ uid, startDate, endDate, summary }) => {
        // In RFC 5545 an event of whole days ends before the day of its end; people are shown its last day.
        const last = endDate.clone();
        last.adjust(-1, 0, 0, 0);
        return `${uid}|${startDate}|${last}|${summary}`;
      })
      .sort();
    for (let time = 0; time < 2; time++) {
      khal('import', '--batch', '-a', 'feed', folder.file('feed.ics'));
      expect(listed()).toEqual(expected);
      expect(readdirSync(folder.file('calendar')).length).toBe(events.length);
    }
    folder.remove();
  });
});

/** A calendar of its own, in a folder that is gone afterwards. */
function khalConfig(folder: Folder): string {
  const date = '%Y-%m-%d';
  return [
    `[calendars]\n[[feed]]\npath = ${folder.file('calendar')}\ntype = calendar`,
    `[sqlite]\npath = ${folder.file('khal.db')}`,
    '[locale]\nlocal_timezone = UTC\ndefault_timezone = UTC\ntimeformat = %H:%M',
    `dateformat = ${date}\nlongdateformat = ${date}\ndatetimeformat = ${date} %H:%M\nlongdatetimeformat = ${date} %H:%M\n`,
  ].join('\n');
}
