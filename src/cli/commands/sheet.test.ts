import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, DEMO_FILE, Terminal } from '../../../test/support/terminal.ts';
import type { Plan } from '../../plan/index.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

describe('sheet', () => {
  it.each([
    ['yard', 'Yard day'],
    ['send-off', 'HOLD'],
    ['season', 'Harvest'],
    ['roadside', 'Marigold'],
    ['history', 'Nell'],
    ['labels', '<svg'],
  ])('%s is a page of its own with what it is made from', async (name, says) => {
    const ran = await terminal.run(['sheet', name, '--demo']);
    expect(ran.code).toBe(0);
    expect(ran.out).toMatch(/^<!doctype html>/i);
    expect(ran.out).toContain(says);
    expect(ran.out).not.toMatch(/<script|src="http|href="http/);
  });

  it('carries the hash of the logbook as anyone can take it of its export', async () => {
    const out = join(terminal.folder, 'history.html');
    const exported = (await terminal.run(['export', '--demo'])).out;
    const hash = createHash('sha256').update(exported).digest('hex');
    const ran = await terminal.run(['sheet', 'history', '--demo', '--out', out, '--json']);
    expect(ran.json()).toEqual({ file: out, rig: 'marigold', logbook: hash });
    expect(readFileSync(out, 'utf8')).toContain(`SHA-256 ${hash}`);
  });

  it('is of the yard day and of the trip that are asked for', async () => {
    const plan = (await terminal.run(['plan', '--demo', '--json'])).json<Plan>();
    const last = plan.days.at(-1)!;
    const yard = (await terminal.run(['sheet', 'yard', '--demo', '--date', last.date])).out;
    expect(yard).toContain(last.jobs[0]!.title);
    const trip = (await terminal.run(['sheet', 'send-off', '--demo', '--trip', 'harvest-2026'])).out;
    expect(trip).toContain('Harvest');
    const codes = (await terminal.run(['sheet', 'labels', '--demo', '--address', 'https://rig.example/'])).err;
    expect(codes).toBe('');
  });

  it.each([
    [['teapot'], 'cli.sheet-unknown'],
    [['yard', '--date', '2026-05-28'], 'cli.sheet-no-yard-day'],
    [['yard', '--date', 'soon'], 'date.format'],
    [['yard', '--trip', 'harvest-2026'], 'cli.option-unused'],
    [['send-off', '--trip', 'moon'], 'sendoff.trip-unknown'],
    [['labels', '--address', 'javascript:1'], 'cli.address'],
  ])('refuses %j', async (more, code) => {
    const ran = await terminal.run(['sheet', ...more, '--demo', '--json']);
    expect([ran.code, codesOf(ran)]).toEqual([2, [code]]);
  });

  it('does not write over a file unasked', async () => {
    const out = join(terminal.folder, 'season.html');
    await terminal.run(['import', DEMO_FILE]);
    const told = await terminal.run(['sheet', 'season', '--out', out]);
    expect(told).toMatchObject({ code: 0, out: `The season sheet of Marigold & Biscuit is in ${out}.\n` });
    expect(codesOf(await terminal.run(['sheet', 'season', '--out', out, '--json']))).toEqual(['cli.file-there']);
    expect((await terminal.run(['sheet', 'season', '--out', out, '--force'])).code).toBe(0);
  });
});

describe('calendar', () => {
  it('is an iCalendar with the trips, to the standard output or a file', async () => {
    const { out } = await terminal.run(['calendar', '--demo', '--out', '-']);
    expect(out.split('\r\n')[0]).toBe('BEGIN:VCALENDAR');
    expect(out).toContain('DTSTART;VALUE=DATE:20260612\r\nDTEND;VALUE=DATE:20260622');
    const file = join(terminal.folder, 'rig.ics');
    expect((await terminal.run(['calendar', '--demo', '--out', file])).code).toBe(0);
    expect(readFileSync(file, 'utf8')).toBe(out);
  });
});
