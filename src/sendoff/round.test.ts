/** Where one stands for what: common practice of the trade (a walk-round begins and ends at the hitch), no source. */
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { demoEntries } from '../../test/support/demo.ts';
import { Logbook } from '../../test/support/logbook.ts';
import { openDesk } from '../desk/index.ts';
import { unwrap } from '../problem/index.ts';
import { departureRound, type RoundRow } from './index.ts';

const catalog = shippedCatalog();
const demo = new Logbook(demoEntries());
const LEAVING = '2026-06-12';

function round(book: Logbook, now = LEAVING): RoundRow[] {
  const desk = openDesk(book.state, catalog, { now, paths: 64 });
  return departureRound({
    ...{ state: book.state, catalog: desk.catalog, outlook: desk.outlook() },
    sendOff: unwrap(desk.sendoff('palouse-2026')),
  });
}
const row = (rows: readonly RoundRow[], id: string): RoundRow => {
  const found = rows.find((one) => one.id === id);
  if (!found) throw new Error(`no ${id} among ${rows.map((one) => one.id).join(', ')}`);
  return found;
};
const tick = (
  book: Logbook,
  upkeep: string,
  part: string,
  outcome: 'good' | 'failed',
  note?: string,
  by?: string,
): Logbook =>
  book.add('work', LEAVING, { done: [{ upkeep, part, outcome }], ...(note === undefined ? {} : { note }) }, by);

describe('the round before leaving', () => {
  const rows = round(demo);

  it('goes round the rig once: hitch, tow vehicle, left, rear, right, inside, all round, rolling', () => {
    const walked = rows.map(({ station }) => station);
    expect([...new Set(walked)]).toEqual(['hitch', 'tow', 'left', 'rear', 'right', 'inside', 'round', 'rolling']);
    expect(row(rows, 'check-coupler/hitch').station).toBe('hitch');
    expect(row(rows, 'check-mirrors/tow').parts).toHaveLength(1);
    expect(row(rows, 'inspect-tire/left').parts.map(({ place }) => place)).toEqual(['axle 1, left', 'axle 2, left']);
    expect(row(rows, 'set-spare-pressure/rear').needs).toBe('pressure-cold');
    expect(row(rows, 'test-smoke-alarm/inside').needs).toBeNull();
    expect(row(rows, 'prove-brakes/rolling').parts).toHaveLength(4);
  });

  it('speaks of each duty of each part once', () => {
    const all = rows.flatMap(({ upkeep, parts }) => parts.map(({ part }) => `${upkeep.id}@${part}`));
    expect(new Set(all).size).toBe(all.length);
  });

  it('a tick makes good, and so does the judgement', () => {
    const ticked = round(tick(demo, 'check-coupler', 'coupler', 'good'));
    const coupler = row(ticked, 'check-coupler/hitch');
    expect(coupler.standing).toBe('good');
    expect(coupler.marks).toHaveLength(1);
    expect(row(rows, 'check-coupler/hitch').standing).toBe('open');
  });

  it('what both ticked is one row with two names', () => {
    const once = tick(demo, 'check-chains', 'chains', 'good');
    const coupler = row(round(tick(once, 'check-chains', 'chains', 'good')), 'check-chains/hitch');
    expect(coupler.standing).toBe('good');
    expect(coupler.marks).toHaveLength(2);
  });

  it('found wrong by one and ticked by another is looked at again, until one of the two is struck', () => {
    const wrong = tick(demo, 'test-lights', 'lights', 'failed', 'left turn signal dark');
    expect(row(round(wrong), 'test-lights/round')).toMatchObject({
      standing: 'wrong',
      marks: [{ outcome: 'failed', note: 'left turn signal dark' }],
    });
    const other = tick(wrong, 'test-lights', 'lights', 'good', undefined, 'Tom');
    expect(row(round(other), 'test-lights/round').standing).toBe('disputed');
    const struck = other.add('strike', LEAVING, { entry: wrong.last.id, reason: 'new bulb, Tom saw it light' });
    expect(row(round(struck), 'test-lights/round').standing).toBe('good');
  });

  it('found wrong and put right by another, who says so, is good, and both are told', () => {
    const wrong = tick(demo, 'test-lights', 'lights', 'failed', 'left turn signal dark');
    const body = { done: [{ upkeep: 'test-lights', part: 'lights', outcome: 'good' }], note: 'new bulb, lit' };
    const mended = wrong.add('work', LEAVING, { ...body, mends: [wrong.last.id] }, 'Tom');
    expect(row(round(mended), 'test-lights/round')).toMatchObject({
      standing: 'good',
      marks: [
        { by: 'Ada', outcome: 'failed', mended: true, note: 'left turn signal dark' },
        { by: 'Tom', outcome: 'good', mended: false, note: 'new bulb, lit' },
      ],
    });
    const again = tick(mended, 'test-lights', 'lights', 'failed', 'dark again', 'Tom');
    expect(row(round(again), 'test-lights/round').standing).toBe('wrong');
    const undone = mended.add('strike', LEAVING, { entry: mended.last.id, reason: 'taken back' }, 'Tom');
    expect(row(round(undone), 'test-lights/round')).toMatchObject({ standing: 'wrong', marks: [{ mended: false }] });
  });

  it('is early where nothing done today holds on leaving', () => {
    const early = round(demo, '2026-05-27');
    expect(row(early, 'check-coupler/hitch')).toMatchObject({ standing: 'early', opens: LEAVING });
    expect(row(early, 'set-spare-pressure/rear').standing).toBe('open');
  });
});
