import { readdirSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, Terminal, widest } from '../../../test/support/terminal.ts';
import type { Outlook } from '../../outlook/index.ts';
import type { Plan } from '../../plan/index.ts';
import type { SendOff } from '../../sendoff/index.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

describe('the three answers on the demo rig', () => {
  it('sendoff --json: a hold, with a stop, a limit and an unproven, each explained and sourced', async () => {
    const ran = await terminal.run(['sendoff', '--demo', '--json']);
    expect(ran.code).toBe(0);
    const answer = ran.json<SendOff>();
    expect(answer.trip).toMatchObject({ id: 'palouse-2026', leave: '2026-06-12', return: '2026-06-21' });
    expect(answer.judgement).toBe('hold');
    for (const kind of ['stop', 'limit', 'unproven'] as const) {
      const found = answer.findings.filter((finding) => finding.kind === kind && finding.severity === 'safety');
      expect(found.length, kind).toBeGreaterThan(0);
      for (const finding of found) {
        expect(finding.text.length, finding.id).toBeGreaterThan(20);
        if (kind !== 'limit') expect(finding.takes, finding.id).not.toBeNull();
      }
      expect(
        found.some((finding) => finding.sources.length > 0),
        kind,
      ).toBe(true);
    }
    expect(answer.findings.find((finding) => finding.id === 'tires/pressure@spare')).toMatchObject({ kind: 'stop' });
    const bearings = answer.findings.filter(
      (finding) => finding.upkeep === 'repack-bearings' && finding.kind === 'stop',
    );
    expect(bearings.map((finding) => finding.part)).toEqual(['bearings-axle-2-left', 'bearings-axle-2-right']);
    expect(answer.findings.find((finding) => finding.upkeep === 'renew-lp-alarm')).toMatchObject({ kind: 'unproven' });
    expect(answer.findings.find((finding) => finding.id === 'tires/speed')).toMatchObject({
      kind: 'limit',
      keepTo: '65 mph',
    });
  });

  it('outlook --json: every upkeep with its dates, odometer, chances and slack', async () => {
    const answer = (await terminal.run(['outlook', '--demo', '--json'])).json<Outlook>();
    expect(answer.now).toBe('2026-05-27');
    expect(answer.odometer.trailer!.shown).toEqual({ value: 64120.4, unit: 'mi' });
    expect(answer.trips).toHaveLength(6);
    expect(answer.items.length).toBeGreaterThan(150);
    for (const item of answer.items) {
      expect(Object.keys(item)).toEqual(
        expect.arrayContaining([
          'upkeep',
          'part',
          'state',
          'clock',
          'left',
          'dates',
          'odometer',
          'chanceByTrip',
          'slackTrips',
          'evidence',
          'sources',
        ]),
      );
      expect(item.chanceByTrip).toHaveLength(6);
      expect(Object.keys(item.dates)).toEqual(['p10', 'p50', 'p90']);
    }
  });

  it('a miles clock is exact: 56,310.0 + 8,000 = 64,310.0, and 189.6 mi are left at 64,120.4', async () => {
    const answer = (await terminal.run(['outlook', '--demo', '--json'])).json<Outlook>();
    const item = answer.items.find((one) => one.id === 'repack-bearings@bearings-axle-2-left')!;
    expect([item.clock, item.left]).toEqual(['miles', { value: 189.6, unit: 'mi' }]);
    expect(item.clocks.find((clock) => clock.kind === 'miles')!.dueAtOdometer).toEqual({ value: 64310, unit: 'mi' });
    // The months run out a week after the return, the miles on the way: the earliest clock governs.
    expect(item.clocks.find((clock) => clock.kind === 'months')!.dueOn).toBe('2026-06-28');
    expect(item.chanceByTrip[0]).toMatchObject({ trip: 'palouse-2026', chance: 1 });
  });

  it('three follow-ups of the wheels taken off on 23 May fall on the next trip', async () => {
    const answer = (await terminal.run(['outlook', '--demo', '--json'])).json<Outlook>();
    const after = answer.items.filter((item) => item.upkeep === 'retorque-wheel-nuts');
    expect(after.map((item) => [item.follows!.atMiles, item.follows!.odometer.value])).toEqual([
      [10, 64130.4],
      [25, 64145.4],
      [50, 64170.4],
    ]);
    expect(after.every((item) => item.dates.p50! >= '2026-06-12' && item.dates.p50! <= '2026-06-21')).toBe(true);
  });

  it('plan --json: yard days with jobs, tools and parts, and its bound', async () => {
    const answer = (await terminal.run(['plan', '--demo', '--json'])).json<Plan>();
    expect(answer.bound).toBeLessThanOrEqual(answer.cost + 1e-6);
    expect(answer.days.length).toBeGreaterThan(0);
    for (const day of answer.days)
      expect(Object.keys(day)).toEqual(expect.arrayContaining(['date', 'minutes', 'jobs', 'tools', 'parts']));
    expect(answer.onTheWay.length + answer.later.length).toBeGreaterThan(0);
  });

  it.each([
    [['outlook']],
    [['outlook', '--all']],
    [['outlook', '--why']],
    [['plan', '--all', '--why']],
    [['sendoff']],
    [['sendoff', '--all', '--why']],
    [['check']],
  ])('%j fits 80 columns', async (argv) => {
    const ran = await terminal.run([...argv, '--demo']);
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(widest(ran.out)).toBeLessThanOrEqual(80);
  });

  it('says a state by a shape and a word, never by colour', async () => {
    const { out } = await terminal.run(['sendoff', '--demo']);
    expect(out).toContain('⯃ HOLD');
    expect(out).toContain('What stops us');
    expect(out).toContain('○ Renew the LP gas alarm');
    expect((await terminal.run(['outlook', '--demo', '--all'])).out).toMatch(/▮▯▯▯▯▯ 1 of 6|▮▮▮▮▮▮ 6 of 6/);
    expect(out.includes('\u001b')).toBe(false);
  });

  it('stands on another day with --now, and on another trip by its id', async () => {
    const later = (await terminal.run(['sendoff', '--demo', '--json', '--now', '2026-06-25'])).json<SendOff>();
    expect(later.trip.id).not.toBe('harvest-2026');
    const harvest = (await terminal.run(['sendoff', 'harvest-2026', '--demo', '--json'])).json<SendOff>();
    expect(harvest.trip.id).toBe('harvest-2026');
    expect(codesOf(await terminal.run(['sendoff', 'moon', '--demo', '--json']))).not.toEqual([]);
  });

  it('refuses the owner’s figures that do not hold; those that came in as they were are told, and left out', async () => {
    const odd = {
      id: '01KZZZZZZZZZZZZZZZZZZZZZZ0',
      rig: 'marigold',
      kind: 'set',
      on: '2026-05-26',
      at: '2026-05-26T18:00:00Z',
      by: 'Nell',
      v: 1,
    };
    const value = { upkeep: 'teapot', clock: 'miles', every: '5 mi', source: 'A dream' };
    const demo = (await terminal.run(['export', '--demo'])).out;
    const input = `${demo}${JSON.stringify({ ...odd, body: { key: 'override/teapot', value } })}\n`;
    const refused = await terminal.run(['import', '-', '--json'], { input });
    expect([refused.code, codesOf(refused)]).toEqual([2, ['catalog.reference-unknown', 'cli.import-whole']]);
    await terminal.run(['import', '-', '--as-is'], { input });
    const ran = await terminal.run(['outlook', '--json']);
    expect([ran.code, ran.err]).toEqual([0, expect.stringContaining('teapot')]);
    expect(ran.json<Outlook>().items.length).toBeGreaterThan(150);
  });

  it('leaves nothing behind', async () => {
    await terminal.run(['log', 'spare 65 psi', '--demo', '--yes']);
    expect(readdirSync(terminal.folder)).toEqual([]);
  });
});
