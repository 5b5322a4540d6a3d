import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, DEMO_FILE, Terminal, widest } from '../../../test/support/terminal.ts';
import { formatQuantity } from '../../quantity/index.ts';
import type { SendOff } from '../../sendoff/index.ts';
import type { Loads } from '../view/loads.ts';

let terminal: Terminal;
beforeEach(() => {
  terminal = new Terminal();
});
afterEach(() => terminal.clear());

const lb = (value: number) => ({ value, unit: 'lb' });

/** The demo rig, weighed once more in another way. */
async function weighed(body: object): Promise<void> {
  await terminal.run(['import', DEMO_FILE]);
  const envelope = { id: '01KSK000000000000000000000', rig: 'marigold', kind: 'weigh', by: 'Nell', v: 1 };
  const entry = { ...envelope, on: '2026-05-26', at: '2026-05-26T10:00:00Z', body };
  const ran = await terminal.run(['import', '-'], { input: `${JSON.stringify(entry)}\n` });
  expect(ran.err).toBe('');
}

/** Every margin says what the send-off says: one truth, told twice. */
async function agrees(argv: readonly string[] = []): Promise<Loads> {
  const loads = (await terminal.run(['loads', '--json', ...argv])).json<Loads>();
  const sendOff = (await terminal.run(['sendoff', '--json', ...argv])).json<SendOff>();
  const told = new Map(sendOff.findings.map((finding) => [finding.id, finding]));
  const show = (q: { value: number; unit: string }): string => formatQuantity(q as never, { digits: 0 });
  for (const { id, load, rating, origin, left, used } of loads.margins) {
    const finding = told.get(`loads/${id}`);
    expect(finding === undefined, id).toBe(used === null);
    if (!finding || !load || !rating || !left) continue;
    expect(finding.text, id).toContain(`: ${show(load)} of ${show(rating)} (${origin}), ${Math.round(used!)} %`);
    expect(finding.text, id).toContain(left.value < 0 ? 'over by' : `${show(left)} left`);
    expect(finding.kind === 'stop', id).toBe(left.value < 0);
  }
  const missing = (of: (row: Loads['margins'][number]) => boolean) => loads.margins.filter(of).map((row) => row.what);
  for (const what of missing((row) => row.rating === null && row.load !== null))
    expect(told.get('loads/ratings')?.text).toContain(what);
  for (const what of missing((row) => row.load === null && row.rating !== null))
    expect(told.get('loads/unweighed')?.text).toContain(what);
  return loads;
}

describe('loads', () => {
  it('are the margins of the newest weighing, the tightest first, as the send-off has them', async () => {
    const loads = await agrees(['--demo']);
    // Tow vehicle alone 3,140 + 2,850 lb; coupled, slack, 2,800 + 4,050 lb: by statics 860 lb on the tongue.
    expect(loads.figures).toMatchObject({ tongue: lb(860), trailer: lb(6580), axles: lb(5800), rear: lb(4050) });
    expect(loads.weighing).toMatchObject({ on: '2026-05-03' });
    const used = loads.margins.flatMap((row) => row.used ?? []);
    expect(used.length).toBeGreaterThan(5);
    expect(used).toEqual([...used].sort((a, b) => b - a));
    expect(loads.findings.map((finding) => finding.id)).toEqual(expect.arrayContaining(['loads/weighing']));
  });

  it('stand in a table of 80 columns', async () => {
    const ran = await terminal.run(['loads', '--demo']);
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(widest(ran.out)).toBeLessThanOrEqual(80);
    expect(ran.out).toMatch(/What +Load +Rating +Left +Used +Rating from\n/);
    expect(ran.out).toContain('Tongue 860 lb, 13.1 % of the trailer’s 6,580 lb');
  });

  it.each([
    ['a tongue scale', { tongue: lb(800), axles: lb(5700) }],
    ['a tongue scale alone', { tongue: lb(800) }],
    [
      'one axle at a time',
      {
        solo: { front: lb(3140), rear: lb(2850) },
        hitchedSlack: { front: lb(2800), rear: lb(4050), axles: lb(5720) },
      },
    ],
    ['coupled only', { hitchedSet: { front: lb(3010), rear: lb(3760), axles: lb(5800) } }],
    ['too much', { hitchedSet: { front: lb(3010), rear: lb(5760), axles: lb(9800) } }],
  ])('agree with the send-off by %s', async (name, body) => {
    await weighed(body);
    const loads = await agrees();
    expect(loads.weighing!.on).toBe('2026-05-26');
    const ran = await terminal.run(['loads']);
    expect(widest(ran.out)).toBeLessThanOrEqual(80);
    if (name === 'too much') expect(ran.out).toMatch(/^⯃ OVER: trailer axles by [\d,]+ lb\. Do not tow/m);
  });

  it('are not made up from tickets that cannot be, nor from none', async () => {
    await weighed({
      solo: { front: lb(3140), rear: lb(2850) },
      hitchedSlack: { front: lb(2800), rear: lb(4050), axles: lb(700) },
    });
    const wrong = await terminal.run(['loads', '--json']);
    expect([wrong.code, codesOf(wrong)]).toEqual([2, ['loads.tongue-impossible']]);
    const early = await terminal.run(['loads', '--now', '2021-05-01']);
    expect([early.code, early.out]).toEqual([0, expect.stringContaining('○ Never weighed')]);
    const json = (await terminal.run(['loads', '--now', '2021-05-01', '--json'])).json<Loads>();
    expect(json.weighing).toBeNull();
    expect(json.margins.every((row) => row.left === null)).toBe(true);
  });
});
