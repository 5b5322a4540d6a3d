import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { calendarFeed } from '../../src/sheets/index.ts';
import { demoDesk } from '../support/demo.ts';

/** Checked by an independent parser of RFC 5545, ical.js. */
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
});
