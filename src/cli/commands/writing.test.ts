import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, DEMO_FILE, type Ran, Terminal, widest } from '../../../test/support/terminal.ts';
import type { Entry } from '../../logbook/index.ts';
import type { Outlook } from '../../outlook/index.ts';
import type { SendOff } from '../../sendoff/index.ts';

let terminal: Terminal;
beforeEach(async () => {
  terminal = new Terminal();
  await terminal.run(['import', DEMO_FILE]);
});
afterEach(() => terminal.clear());

const exported = async (): Promise<Entry[]> =>
  (await terminal.run(['export'])).out
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line));
const written = (ran: Ran): Entry[] => ran.json<{ entries: Entry[] }>().entries;
const findings = async (): Promise<SendOff['findings']> =>
  (await terminal.run(['sendoff', '--json'])).json<SendOff>().findings;

describe('strike', () => {
  it('says what it strikes, asks, and the entry no longer counts', async () => {
    const [reading] = written(await terminal.run(['log', 'spare 65 psi', '--yes', '--json']));
    const stopped = async () =>
      (await findings()).some((finding) => finding.id === 'tires/pressure@spare' && finding.kind === 'stop');
    expect(await stopped()).toBe(false);
    const ran = await terminal.run(['strike', reading!.id.toLowerCase(), '--reason', 'wrong gauge'], {
      answers: ['y'],
    });
    expect(ran.code).toBe(0);
    expect(ran.out.replaceAll(/\s+/g, ' ')).toContain('pressure cold 65 psi (written by Nell');
    expect(ran.err).toContain('Write it down?');
    expect(await stopped()).toBe(true);
    expect((await exported()).some((entry) => entry.id === reading!.id)).toBe(true);
  });

  it('is understood as a sentence about what was written last', async () => {
    const [reading] = written(await terminal.run(['log', 'spare 65 psi', '--yes', '--json']));
    const ran = await terminal.run(['log', 'Strike that - wrong gauge', '--yes', '--json']);
    expect(written(ran)).toMatchObject([{ kind: 'strike', body: { entry: reading!.id, reason: 'wrong gauge' } }]);
    const twice = await terminal.run(['strike', reading!.id, '--reason', 'again', '--json']);
    expect(codesOf(twice)).toEqual(['cli.struck']);
    expect(codesOf(await terminal.run(['log', 'strike that - no', '--yes', '--json']))).toEqual([
      'logbook.strike-strike',
    ]);
  });

  it.each([
    [['log', 'strike that'], 'cli.strike-reason'],
    [['strike', '01K0000000000000000000000Z'], 'cli.strike-reason'],
    [['strike', '01K0000000000000000000000Z', '--reason', 'x'], 'logbook.strike-unknown'],
  ])('refuses %j', async (argv, code) => {
    const ran = await terminal.run([...argv, '--yes', '--json']);
    expect([ran.code, codesOf(ran)]).toEqual([2, [code]]);
  });
});

describe('trip', () => {
  const plan = ['trip', 'Sanpoil', 'Loop', '--leave', '2026-06-26', '--return', '2026-06-28', '--miles', '1,150'];

  it('plans one, shown before it is written, and it stands in the outlook', async () => {
    const ran = await terminal.run([...plan, '--chance', '60%', '--nights', '2'], { answers: ['yes'] });
    expect([ran.code, ran.out.split('\nWritten')[0]]).toEqual([
      0,
      'Understood: Trip planned: Sanpoil Loop, 26 Jun 2026 to 28 Jun 2026, 1,150 mi, 60\n% sure (sanpoil-loop-2026).',
    ]);
    const { trips } = (await terminal.run(['outlook', '--json'])).json<Outlook>();
    expect(trips.find((one) => one.trip === 'sanpoil-loop-2026')).toMatchObject({
      leave: '2026-06-26',
      return: '2026-06-28',
      chance: 0.6,
    });
  });

  it('plans one again, keeping what is not said anew', async () => {
    await terminal.run([...plan, '--yes']);
    const again = await terminal.run(['trip', '--id', 'sanpoil-loop-2026', '--miles', '300 km', '--yes', '--json']);
    expect(written(again)).toMatchObject([
      {
        kind: 'trip',
        body: { name: 'Sanpoil Loop', leave: '2026-06-26', miles: { value: 300, unit: 'km' }, chance: 1 },
      },
    ]);
    expect(again.json<{ understood: string }>().understood).toContain('Before: Trip planned: Sanpoil Loop');
  });

  it('takes miles and stops from a list of places, or from a map program, and says what they rest on', async () => {
    const list = join(terminal.folder, 'way.txt');
    writeFileSync(list, 'Home–Lakeside 142 mi\nLakeside–Pass 30.26 mi\n');
    const days = ['trip', 'Pass', '--leave', '2026-06-26', '--return', '2026-06-28', '--yes', '--json'];
    const ran = await terminal.run([...days, '--places', list, '--and-back']);
    expect(written(ran)).toMatchObject([
      {
        body: {
          miles: { value: 344.5, unit: 'mi' },
          stops: [
            { name: 'Lakeside', mile: { value: 142, unit: 'mi' } },
            { name: 'Pass', mile: { value: 172.3, unit: 'mi' } },
            { name: 'Lakeside', mile: { value: 202.5, unit: 'mi' } },
          ],
        },
      },
    ]);
    expect(ran.json<{ understood: string }>().understood).toContain('Legs are as their owner gave them.');
    const map = join(terminal.folder, 'way.gpx');
    writeFileSync(map, '<gpx version="1.1"><rte><rtept lat="0" lon="0"/><rtept lat="0" lon="1"/></rte></gpx>');
    const again = await terminal.run([...days, '--id', 'pass-2026', '--from-gpx', map]);
    expect(written(again)).toMatchObject([{ body: { miles: { value: 83, unit: 'mi' } } }]);
    expect(codesOf(await terminal.run([...days, '--from-gpx', list]))).toEqual(['route.xml']);
    expect(codesOf(await terminal.run([...days, '--places', list, '--miles', '9']))).toEqual(['cli.trip-route']);
    expect(codesOf(await terminal.run([...days, '--and-back']))).toEqual(['cli.trip-route']);
  });

  it('gives one up', async () => {
    const ran = await terminal.run(['trip', '--id', 'palouse-2026', '--give-up', '--yes', '--json']);
    expect(written(ran)).toMatchObject([{ body: { trip: 'palouse-2026', cancelled: true } }]);
    expect((await terminal.run(['sendoff', '--json'])).json<SendOff>().trip.id).not.toBe('palouse-2026');
  });

  it.each([
    [['trip', 'Nowhere'], ['cli.trip-missing']],
    [['trip', '--give-up'], ['cli.trip-missing']],
    [['trip', '--id', 'moon', '--give-up'], ['cli.trip-unknown']],
    [[...plan, '--chance', '0'], ['cli.chance']],
    [
      [...plan, '--chance', '1.2', '--nights', 'few'],
      ['cli.chance', 'cli.nights'],
    ],
    [[...plan, '--return', '2026-06-20'], ['logbook.entry-invalid']],
    [[...plan, '--miles', '12 psi'], ['quantity.dimension-wrong']],
    [[...plan, '--leave', 'soon'], ['date.format']],
    [['trip', 'Palouse', '--leave', '2026-07-01', '--return', '2026-07-02', '--miles', '9'], ['cli.trip-there']],
  ])('refuses %j', async (argv, codes) => {
    const before = (await exported()).length;
    const ran = await terminal.run([...argv, '--yes', '--json']);
    expect([ran.code, codesOf(ran)]).toEqual([2, codes]);
    expect((await exported()).length).toBe(before);
  });

  it('writes nothing where nobody can confirm it', async () => {
    const ran = await terminal.run(plan);
    expect([ran.code, ran.err]).toEqual([2, expect.stringContaining('--yes')]);
    expect((await terminal.run([...plan, '--json'])).json()).toMatchObject({ written: false });
    expect(await terminal.run(plan, { answers: ['n'] })).toMatchObject({ code: 2 });
  });
});

describe('waive', () => {
  const how = ['--trip', 'palouse-2026', '--reason', 'We carry a second spare'];

  it('tells the finding and its cautions, asks, and it no longer counts for that trip', async () => {
    const ran = await terminal.run(['waive', 'tires/pressure@spare', ...how], { answers: ['y'] });
    expect(ran.code).toBe(0);
    expect(ran.out).toContain('Understood: Overrule what stops us (safety)');
    expect(widest(ran.out)).toBeLessThanOrEqual(80);
    const palouse = (await findings()).find((finding) => finding.id === 'tires/pressure@spare');
    expect(palouse).toMatchObject({ counts: 'nothing', waived: { by: 'Nell', reason: 'We carry a second spare' } });
    const other = (await terminal.run(['sendoff', 'coast-2026', '--json'])).json<SendOff>().findings;
    expect(other.find((finding) => finding.id === 'tires/pressure@spare')?.waived).toBeUndefined();
  });

  it.each([
    ['tires/spare', 'cli.finding-unknown'],
    ['loads/trailer', 'cli.finding-passes'],
  ])('refuses %s', async (id, code) => {
    const ran = await terminal.run(['waive', id, ...how, '--yes', '--json']);
    expect([ran.code, codesOf(ran)]).toEqual([2, [code]]);
    if (id === 'tires/spare') expect(ran.out).toContain('tires/pressure@spare');
  });

  it('asks for trip and reason', async () => {
    expect((await terminal.run(['waive', 'tires/pressure@spare', '--trip', 'palouse-2026'])).code).toBe(2);
    const moon = await terminal.run(['waive', 'x', '--trip', 'moon', '--reason', 'x', '--json']);
    expect(codesOf(moon)).toEqual(['sendoff.trip-unknown']);
  });
});
